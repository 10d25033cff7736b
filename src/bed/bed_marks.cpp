#include "bed/bed_marks.h"

#include "base/maths/exp_log.h"
#include "base/maths/hypot.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace leastwall {
namespace {

constexpr std::size_t kFewest = 9, kFewestBesideStep = 3, kNeighbours = 8, kMaxLone = 6;
constexpr int kRowsBesideStep = 2; // of three rows no one can tell a step from a tilt and a crown
constexpr double kResolution_mm = 0.003, kMinHeight_mm = 0.02, kStepExplains = 0.7;
constexpr long kMinFree = 5; // degrees of freedom that a scatter must rest on

struct Candidate {
  bool is_step = false;
  double cost = 0;
  std::size_t index = 0; ///< lone: of the kept sample
  BedStepTerm step;
};

/// So many standard errors off the rest one of `tries` comes once in a thousand beds at most: the
/// bound exp(-t^2 / 2) for the normal tail, widened for a scatter known from `free` readings.
double far_off(std::size_t tries, long free) {
  return std::sqrt(2 * maths::log(1000.0 * static_cast<double>(tries))) *
         (1 + 6.0 / static_cast<double>(free));
}

class Search {
 public:
  Search(std::span<const BedSample> samples, int axes)
      : samples_(samples), axes_(axes), kept_(samples.size()) {
    std::iota(kept_.begin(), kept_.end(), std::size_t{0});
  }

  BedMarks marks() {
    while (round()) {
    }
    if (!marks_.lone.empty()) { // the others in sight no more, each height anew
      const std::vector<BedSample> shown = kept();
      BedFit fit = fit_quadratic(shown, axes_, marks_.steps);
      if (auto plane = fit_bed(shown, {plane_terms(axes_), marks_.steps});
          plane &&
          cost(plane->squares, plane->terms.count()) < cost(fit.squares, fit.terms.count()))
        fit = *std::move(plane);
      for (LoneSample& lone : marks_.lone)
        lone.height_mm = samples_[lone.index].z - fit.at(samples_[lone.index]);
    }
    return std::move(marks_);
  }

 private:
  double cost(double squares, std::size_t terms) const {
    const auto n = static_cast<double>(samples_.size());
    return n * maths::log(squares / n + kResolution_mm * kResolution_mm) +
           static_cast<double>(terms + 2 * marks_.lone.size()) * maths::log(n);
  }

  std::vector<BedSample> kept() const {
    std::vector<BedSample> shown;
    for (const std::size_t i : kept_)
      shown.push_back(samples_[i]);
    return shown;
  }

  bool round() {
    const std::vector<BedSample> shown = kept();
    const BedFit quadratic = fit_quadratic(shown, axes_, marks_.steps);
    best_ = {};
    best_.cost = cost(quadratic.squares, quadratic.terms.count());
    found_ = false;
    if (const auto plane = fit_bed(shown, {plane_terms(axes_), marks_.steps})) {
      best_.cost = std::min(best_.cost, cost(plane->squares, plane->terms.count()));
      try_lone(*plane, shown);
      try_steps(*plane, shown, quadratic.squares);
    }
    try_lone(quadratic, shown);
    try_steps(quadratic, shown, quadratic.squares);
    if (!found_)
      return false;
    if (best_.is_step) {
      marks_.steps.push_back(best_.step);
      return true;
    }
    marks_.lone.push_back({kept_[best_.index], 0});
    kept_.erase(kept_.begin() + static_cast<std::ptrdiff_t>(best_.index));
    return true;
  }

  void try_lone(const BedFit& fit, std::span<const BedSample> shown) {
    const auto n = static_cast<long>(shown.size());
    const long free = n - 1 - static_cast<long>(fit.terms.count());
    if (free < kMinFree ||
        marks_.lone.size() >= std::min<std::size_t>(kMaxLone, samples_.size() / kNeighbours))
      return;
    for (long i = 0; i < n; ++i) {
      const double loose = 1 - fit.basis.row(i).squaredNorm(); // 1 - leverage
      if (loose < 1e-6)
        continue;
      const double height = fit.rest(i) / loose;
      const double squares = std::max(0.0, fit.squares - fit.rest(i) * height);
      const double c = cost(squares, fit.terms.count() + 2);
      if (std::fabs(height) < kMinHeight_mm || c >= best_.cost)
        continue;
      const double scatter = std::sqrt(squares / static_cast<double>(free)) + kResolution_mm;
      if (std::fabs(height) * std::sqrt(loose) < far_off(samples_.size(), free) * scatter ||
          !stands_alone(fit, shown, i, height))
        continue;
      best_ = {false, c, static_cast<std::size_t>(i), {}};
      found_ = true;
    }
  }

  /// Whether no neighbour is off by half as much to the same side, once reading i is left out.
  static bool stands_alone(const BedFit& fit, std::span<const BedSample> shown, long i,
                           double height) {
    const BedSample& s = shown[static_cast<std::size_t>(i)];
    std::vector<std::pair<double, long>> near;
    for (long k = 0; k < fit.rest.size(); ++k)
      if (k != i) {
        const BedSample& o = shown[static_cast<std::size_t>(k)];
        near.emplace_back(maths::hypot(o.u - s.u, o.v - s.v), k);
      }
    const std::size_t few = std::min(kNeighbours, near.size());
    std::partial_sort(near.begin(), near.begin() + static_cast<std::ptrdiff_t>(few), near.end());
    for (std::size_t k = 0; k < few; ++k) {
      const long o = near[k].second;
      const double without = fit.rest(o) + fit.basis.row(o).dot(fit.basis.row(i)) * height;
      if (without * height > 0.5 * height * height)
        return false;
    }
    return true;
  }

  /// A step in every gap that has enough readings on both sides: what it takes away follows from
  /// the sums of rest and basis beyond the gap.
  void try_steps(const BedFit& fit, std::span<const BedSample> shown, double smooth_squares) {
    const std::size_t n = shown.size();
    const long free = static_cast<long>(n) - 1 - static_cast<long>(fit.terms.count());
    if (free < kMinFree)
      return;
    for (const bool along : {true, false}) {
      if ((!along && axes_ < 2) ||
          std::any_of(marks_.steps.begin(), marks_.steps.end(),
                      [&](const BedStepTerm& s) { return s.along == along; }))
        continue;
      const auto place = [&](std::size_t i) { return along ? shown[i].along : shown[i].across; };
      std::vector<std::size_t> order(n);
      std::iota(order.begin(), order.end(), std::size_t{0});
      std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return place(a) != place(b) ? place(a) > place(b) : a < b;
      });
      const double same = 1e-6 * (place(order.front()) - place(order.back()));
      Eigen::VectorXd beyond = Eigen::VectorXd::Zero(fit.basis.cols());
      double rest = 0;
      int rows = 0; // so far
      const double last_row = place(order.back()) + same;
      for (std::size_t k = 1; k + kFewestBesideStep <= n; ++k) {
        const auto last = static_cast<long>(order[k - 1]);
        beyond += fit.basis.row(last).transpose();
        rest += fit.rest(last);
        if (place(order[k - 1]) - place(order[k]) <= same)
          continue;
        if (++rows < kRowsBesideStep || k < kFewestBesideStep || place(order[k]) <= last_row)
          continue;
        const double loose = static_cast<double>(k) - beyond.squaredNorm();
        if (loose < 1e-6 * static_cast<double>(n))
          continue;
        const double height = rest / loose;
        const double squares = std::max(0.0, fit.squares - rest * height);
        const double c = cost(squares, fit.terms.count() + 2);
        const double scatter = std::sqrt(squares / static_cast<double>(free)) + kResolution_mm;
        if (c >= best_.cost || std::fabs(height) < kMinHeight_mm ||
            squares > (1 - kStepExplains) * smooth_squares ||
            std::fabs(height) * std::sqrt(loose) < far_off(n, free) * scatter)
          continue;
        best_ = {true, c, 0, {along, (place(order[k - 1]) + place(order[k])) / 2}};
        found_ = true;
      }
    }
  }

  std::span<const BedSample> samples_;
  int axes_;
  std::vector<std::size_t> kept_;
  BedMarks marks_;
  Candidate best_;
  bool found_ = false;
};

} // namespace

BedMarks find_bed_marks(std::span<const BedSample> samples, int axes) {
  if (samples.size() < kFewest || axes == 0)
    return {};
  return Search(samples, axes).marks();
}

} // namespace leastwall
