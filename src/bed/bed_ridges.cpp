#include "bed/bed_ridges.h"

#include "base/maths/angles.h"
#include "bed/bed_terms.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace leastwall {
namespace {

constexpr std::size_t kFewestReadings = 30, kFewestRows = 8;
constexpr double kMaxRows = 2000, kFewestWaves = 2.5, kMaxWaves = 100, kFewestRowsAWave = 3;
constexpr double kUnknowns = 5, kClear = 12;

/// Mean left-over at each distinct coordinate along one axis: straight ridges stay, the rest thins.
struct Profile {
  std::vector<double> at, mean, count;
  double length() const { return at.back() - at.front(); }
};

Profile profile_along(std::vector<std::pair<double, double>> at_and_rest, double same) {
  std::sort(at_and_rest.begin(), at_and_rest.end());
  Profile p;
  double first = 0;
  for (const auto& [at, rest] : at_and_rest) {
    if (p.at.empty() || at - first > same) {
      first = at;
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
  double waves = 0, height = 0, explained = 0; // over the length; peak to valley; sum of squares
};

/// Fits waves to a profile with the parabola taken out of both.
class Waves {
 public:
  explicit Waves(const Profile& p) : p_(p), parabola_(rows(), 3), mean_(rows()), weight_(rows()) {
    for (long i = 0; i < rows(); ++i) {
      weight_(i) = std::sqrt(p.count[static_cast<std::size_t>(i)]);
      const double a = 2 * part(i) - 1;
      parabola_.row(i) << weight_(i), weight_(i) * a, weight_(i) * a * a;
      mean_(i) = weight_(i) * p.mean[static_cast<std::size_t>(i)];
    }
    parabola_ = Eigen::MatrixXd(Eigen::HouseholderQR<Eigen::MatrixXd>(parabola_).householderQ() *
                                Eigen::MatrixXd::Identity(rows(), 3));
    mean_ = bare(mean_);
  }

  double squares() const { return mean_.squaredNorm(); }

  Wave sine(double waves) const {
    Eigen::MatrixXd m(rows(), 2);
    for (long i = 0; i < rows(); ++i) {
      const double a = 2 * std::numbers::pi * waves * part(i);
      m.row(i) << weight_(i) * maths::cos(a), weight_(i) * maths::sin(a);
    }
    m.col(0) = bare(m.col(0));
    m.col(1) = bare(m.col(1));
    const Eigen::Vector2d to = m.transpose() * mean_;
    const Eigen::Matrix2d own = m.transpose() * m;
    Eigen::Vector2d k(to(0) / own(0, 0), 0); // at two readings a wave the sine vanishes
    if (own.determinant() > 1e-6 * own(0, 0) * own(0, 0))
      k = own.inverse() * to;
    return {waves, 2 * k.norm(), k.dot(to)};
  }

  /// A saw-tooth that rises over `rise` of its length and falls over the rest.
  Wave tooth(double waves, double phase, double rise) const {
    Eigen::VectorXd t(rows());
    for (long i = 0; i < rows(); ++i) {
      const double a = waves * part(i) + phase, f = a - std::floor(a);
      t(i) = weight_(i) * (f < rise ? f / rise : (1 - f) / (1 - rise));
    }
    t = bare(t);
    const double own = t.squaredNorm();
    if (!(own > 1e-9 * static_cast<double>(rows())))
      return {};
    const double height = t.dot(mean_) / own;
    return {waves, std::fabs(height), height * height * own};
  }

 private:
  long rows() const { return static_cast<long>(p_.at.size()); }
  double part(long i) const {
    return (p_.at[static_cast<std::size_t>(i)] - p_.at.front()) / p_.length();
  }
  Eigen::VectorXd bare(const Eigen::VectorXd& v) const {
    return v - parabola_ * (parabola_.transpose() * v);
  }

  const Profile& p_;
  Eigen::MatrixXd parabola_;
  Eigen::VectorXd mean_, weight_;
};

Wave strongest_wave(const Profile& p) {
  const Waves fit(p);
  Wave best;
  const auto rows = static_cast<double>(p.at.size());
  const double finest = std::min(kMaxWaves, (rows - 1) / 2);
  for (double waves = kFewestWaves; waves <= finest + 1e-9; waves += 0.125)
    if (const Wave sine = fit.sine(waves); sine.explained > best.explained)
      best = sine;
  if (!(best.waves > 0) || rows / best.waves < kFewestRowsAWave)
    return best;
  const double about = best.waves;
  const Wave sine = best;
  constexpr int kPhases = 40, kSides = 8;
  for (int side = -kSides; side <= kSides; ++side)
    for (int phase = 0; phase < kPhases; ++phase)
      for (const double rise : {1.0, 0.5}) { // falling teeth are rising ones with a minus sign
        const Wave tooth =
            fit.tooth(about + 0.02 * side, static_cast<double>(phase) / kPhases, rise);
        if (tooth.explained > best.explained)
          best = tooth;
      }
  // Scatter alone must not turn a sine into a triangle, which is a quarter higher.
  const double left = fit.squares() - best.explained, left_by_sine = fit.squares() - sine.explained;
  return left < 0.5 * left_by_sine ? best : sine;
}

} // namespace

std::optional<BedShape::Ridges> find_ridges(std::span<const BedSample> samples,
                                            std::span<const double> rest, const ReadingPlan& plan) {
  const double squares = std::inner_product(rest.begin(), rest.end(), rest.begin(), 0.0);
  if (samples.size() < kFewestReadings || !(squares > 0))
    return std::nullopt;
  std::optional<BedShape::Ridges> found;
  // Among few readings a free choice of distance, phase and kind finds a wave in mere scatter: the
  // wave's share of five unknowns must stand far above that of what is left (tried on scatter).
  const double free = static_cast<double>(samples.size()) - kUnknowns - 6;
  double most = squares * std::max(0.5, kClear * kUnknowns / (kClear * kUnknowns + free));
  for (const bool along : {true, false}) {
    if (!along && plan.axes < 2)
      continue;
    std::vector<std::pair<double, double>> list;
    for (std::size_t i = 0; i < samples.size(); ++i)
      list.emplace_back(along ? samples[i].along : samples[i].across, rest[i]);
    const Profile p = profile_along(std::move(list), plan.extent / kMaxRows);
    if (p.at.size() < kFewestRows)
      continue;
    const Wave wave = strongest_wave(p);
    if (wave.explained < most)
      continue;
    most = wave.explained;
    found = {plan.axes == 2 ? along : std::fabs(plan.ex) >= std::fabs(plan.ey),
             p.length() / wave.waves, wave.height};
  }
  return found;
}

} // namespace leastwall
