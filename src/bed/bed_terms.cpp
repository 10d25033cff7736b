#include "bed/bed_terms.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>

namespace leastwall {
namespace {

using enum BedTerm;

double value(BedTerm term, const BedSample& s) {
  switch (term) {
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

} // namespace

std::vector<BedSample> bed_samples(std::span<const Vec3> readings, const ReadingPlan& plan) {
  std::vector<BedSample> samples;
  samples.reserve(readings.size());
  double half_line = 0;
  for (const Vec3& p : readings) {
    const double x = p.x - plan.middle_x, y = p.y - plan.middle_y;
    BedSample s{0, 0, x * plan.ex + y * plan.ey, y * plan.ex - x * plan.ey, p.z - readings[0].z};
    half_line = std::max(half_line, std::fabs(s.along));
    if (plan.axes == 2) {
      s.u = x / (plan.size_x / 2);
      s.v = y / (plan.size_y / 2);
    }
    samples.push_back(s);
  }
  if (plan.axes == 1)
    for (BedSample& s : samples)
      s.u = s.along / half_line;
  return samples;
}

std::optional<double> BedFit::of(BedTerm term) const {
  const auto found = std::find(terms.smooth.begin(), terms.smooth.end(), term);
  if (found == terms.smooth.end())
    return std::nullopt;
  return coefficients(found - terms.smooth.begin());
}

double BedFit::at(const BedSample& s) const {
  double z = 0;
  for (std::size_t k = 0; k < terms.smooth.size(); ++k)
    z += coefficients(static_cast<long>(k)) * value(terms.smooth[k], s);
  for (std::size_t k = 0; k < terms.steps.size(); ++k)
    z += step(k) * terms.steps[k].value(s);
  return z;
}

std::optional<BedFit> fit_bed(std::span<const BedSample> samples, const BedTerms& terms) {
  if (samples.size() < terms.count())
    return std::nullopt;
  const auto n = static_cast<long>(samples.size()), p = static_cast<long>(terms.count());
  Eigen::MatrixXd m(n, p);
  Eigen::VectorXd z(n);
  for (long i = 0; i < n; ++i) {
    const BedSample& s = samples[static_cast<std::size_t>(i)];
    z(i) = s.z;
    long column = 0;
    for (const BedTerm term : terms.smooth)
      m(i, column++) = value(term, s);
    for (const BedStepTerm& step : terms.steps)
      m(i, column++) = step.value(s);
  }
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(m);
  qr.setThreshold(1e-6);
  if (qr.rank() < p)
    return std::nullopt;
  BedFit fit{terms, qr.solve(z), Eigen::MatrixXd::Identity(n, p), {}, 0};
  fit.basis.applyOnTheLeft(qr.householderQ());
  fit.rest = z - m * fit.coefficients;
  fit.squares = fit.rest.squaredNorm();
  return fit;
}

std::vector<BedTerm> plane_terms(int axes) {
  if (axes == 2)
    return {one, u, v};
  return axes == 1 ? std::vector{one, u} : std::vector{one};
}

BedFit fit_quadratic(std::span<const BedSample> samples, int axes,
                     const std::vector<BedStepTerm>& steps) {
  using Sets = std::initializer_list<std::vector<BedTerm>>;
  const Sets area = {
      {one, u, v, uv, uu, vv}, {one, u, v, uv, uu}, {one, u, v, uv, vv}, {one, u, v, uv}};
  const Sets line = {{one, u, uu}};
  const Sets place = {{one}};
  for (const auto& smooth : axes == 2 ? area : axes == 1 ? line : place)
    if (std::optional<BedFit> fit = fit_bed(samples, {smooth, steps}))
      return *std::move(fit);
  if (std::optional<BedFit> fit = fit_bed(samples, {plane_terms(axes), steps}))
    return *std::move(fit);
  return *fit_bed(samples, {{one}, {}});
}

} // namespace leastwall
