#include "setup/flatness.h"

#include "setup/reading_plan.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <initializer_list>

namespace leastwall {
namespace {

/// Readings in plan coordinates that run from -1 to 1; `along` and `across` are mm.
struct Sample {
  double u, v, along, across, z;
};

enum Term { one, u, v, uv, uu, vv };

double value(Term t, const Sample& s) {
  switch (t) {
  case one:
    return 1;
  case u:
    return s.u;
  case v:
    return s.v;
  case uv:
    return s.u * s.v;
  case uu:
    return s.u * s.u;
  case vv:
    return s.v * s.v;
  }
  return 0;
}

struct Fit {
  std::vector<Term> terms;
  Eigen::VectorXd coefficients;
  bool has(Term t) const { return std::find(terms.begin(), terms.end(), t) != terms.end(); }
  double of(Term t) const {
    return coefficients(std::find(terms.begin(), terms.end(), t) - terms.begin());
  }
};

/// Least squares with the first set of terms that the readings can tell apart.
Fit fit_quadratic(const std::vector<Sample>& samples, int axes) {
  using Sets = std::initializer_list<std::vector<Term>>;
  const Sets area = {{one, u, v, uv, uu, vv},
                     {one, u, v, uv, uu},
                     {one, u, v, uv, vv},
                     {one, u, v, uv},
                     {one, u, v}};
  const Sets line = {{one, u, uu}, {one, u}};
  const Sets place = {{one}};
  Eigen::VectorXd z(static_cast<long>(samples.size()));
  for (std::size_t i = 0; i < samples.size(); ++i)
    z(static_cast<long>(i)) = samples[i].z;
  for (const auto& terms : axes == 2 ? area : axes == 1 ? line : place) {
    if (samples.size() < terms.size())
      continue;
    Eigen::MatrixXd m(z.size(), static_cast<long>(terms.size()));
    for (std::size_t i = 0; i < samples.size(); ++i)
      for (std::size_t k = 0; k < terms.size(); ++k)
        m(static_cast<long>(i), static_cast<long>(k)) = value(terms[k], samples[i]);
    Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(m);
    qr.setThreshold(1e-6);
    if (qr.rank() == m.cols())
      return {terms, qr.solve(z)};
  }
  Fit mean{{one}, Eigen::VectorXd::Constant(1, z.mean())};
  return mean;
}

/// Mean left-over at each distinct coordinate along one axis: straight ridges stay, the rest thins.
struct Profile {
  std::vector<double> at, mean, count;
};

Profile profile_along(std::vector<std::pair<double, double>> at_and_rest, double same) {
  std::sort(at_and_rest.begin(), at_and_rest.end());
  Profile p;
  for (const auto& [at, rest] : at_and_rest) {
    if (p.at.empty() || at - p.at.back() > same) {
      p.at.push_back(at);
      p.mean.push_back(0);
      p.count.push_back(0);
    }
    p.count.back() += 1;
    p.mean.back() += (rest - p.mean.back()) / p.count.back();
  }
  return p;
}

struct Wave {
  double apart = 0, amplitude = 0, explained = 0; // explained: sum of squares
};

/// The single sine that takes away most of the profile.
Wave strongest_wave(const Profile& p) {
  Wave best;
  const double length = p.at.back() - p.at.front();
  const double finest = std::min(100.0, static_cast<double>(p.at.size() - 1) / 2);
  for (double waves = 2.5; waves <= finest + 1e-9; waves += 0.125) {
    const double k = 2 * std::acos(-1.0) * waves / length;
    double cc = 0, cs = 0, ss = 0, cz = 0, sz = 0;
    for (std::size_t i = 0; i < p.at.size(); ++i) {
      const double a = k * (p.at[i] - p.at.front()), c = std::cos(a), s = std::sin(a);
      const double n = p.count[i];
      cc += n * c * c;
      cs += n * c * s;
      ss += n * s * s;
      cz += n * c * p.mean[i];
      sz += n * s * p.mean[i];
    }
    const double det = cc * ss - cs * cs;
    double a = cz / cc, b = 0; // at two readings a wave the sine vanishes
    if (det > 1e-6 * cc * cc) {
      a = (cz * ss - sz * cs) / det;
      b = (sz * cc - cz * cs) / det;
    }
    if (const double explained = a * cz + b * sz; explained > best.explained)
      best = {length / waves, std::hypot(a, b), explained};
  }
  return best;
}

std::optional<BedShape::Ridges> find_ridges(const std::vector<Sample>& samples,
                                            const std::vector<double>& rest, double rest_squares,
                                            const ReadingPlan& plan) {
  constexpr std::size_t kFewestReadings = 30, kFewestRows = 8;
  if (samples.size() < kFewestReadings || !(rest_squares > 0))
    return std::nullopt;
  std::optional<BedShape::Ridges> found;
  double most = 0.5 * rest_squares;
  for (const bool along : {true, false}) {
    if (!along && plan.axes < 2)
      continue;
    std::vector<std::pair<double, double>> list;
    for (std::size_t i = 0; i < samples.size(); ++i)
      list.emplace_back(along ? samples[i].along : samples[i].across, rest[i]);
    const Profile p = profile_along(std::move(list), 1e-6 * plan.extent);
    if (p.at.size() < kFewestRows)
      continue;
    const Wave wave = strongest_wave(p);
    if (wave.explained < most)
      continue;
    most = wave.explained;
    found = {plan.axes == 2 ? along : std::fabs(plan.ex) >= std::fabs(plan.ey), wave.apart,
             2 * wave.amplitude};
  }
  return found;
}

} // namespace

BedShape bed_shape(std::span<const Vec3> readings) {
  BedShape shape;
  if (readings.empty())
    return shape;
  const ReadingPlan plan = reading_plan(readings);
  std::vector<Sample> samples;
  samples.reserve(readings.size());
  double half_line = 0;
  for (const Vec3& p : readings)
    half_line = std::max(
        half_line, std::fabs((p.x - plan.middle_x) * plan.ex + (p.y - plan.middle_y) * plan.ey));
  for (const Vec3& p : readings) {
    const double x = p.x - plan.middle_x, y = p.y - plan.middle_y;
    Sample s{0, 0, x * plan.ex + y * plan.ey, y * plan.ex - x * plan.ey, p.z - readings[0].z};
    if (plan.axes == 2) {
      s.u = x / (plan.size_x / 2);
      s.v = y / (plan.size_y / 2);
    } else if (plan.axes == 1) {
      s.u = s.along / half_line;
    }
    samples.push_back(s);
  }
  const Fit fit = fit_quadratic(samples, plan.axes);
  const bool line_along_y = plan.axes == 1 && std::fabs(plan.ey) > std::fabs(plan.ex);
  if (fit.has(uu))
    (line_along_y ? shape.crown_y_mm : shape.crown_x_mm) = -fit.of(uu);
  if (fit.has(vv))
    shape.crown_y_mm = -fit.of(vv);
  if (fit.has(uv))
    shape.twist_mm = 2 * fit.of(uv);
  std::vector<double> rest;
  rest.reserve(samples.size());
  double squares = 0, largest = 0;
  for (const Sample& s : samples) {
    double fitted = 0;
    for (std::size_t k = 0; k < fit.terms.size(); ++k)
      fitted += fit.coefficients(static_cast<long>(k)) * value(fit.terms[k], s);
    rest.push_back(s.z - fitted);
    squares += rest.back() * rest.back();
    largest = std::max(largest, std::fabs(s.z));
  }
  shape.left_over_rms_mm = std::sqrt(squares / static_cast<double>(samples.size()));
  if (shape.left_over_rms_mm > 1e-9 * largest)
    shape.ridges = find_ridges(samples, rest, squares, plan);
  return shape;
}

} // namespace leastwall
