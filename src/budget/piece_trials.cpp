#include "budget/piece_trials.h"

#include "base/parallel.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leastwall {
namespace {

constexpr std::size_t kSampleGrain = 2048, kTrialGrain = 128;
// A normal draw from two 53-bit uniforms cannot be larger.
constexpr double kLargestUnitDraw = 8.8;
constexpr double kInfinity = std::numeric_limits<double>::infinity();

CausePoint point_of(const WallSample& s) {
  return {s.at, s.n, s.wall_mm};
}

// Known shifts of a sample added to its wall.
double shifted_wall(std::span<const Cause> causes, std::optional<std::size_t> freed,
                    const CausePoint& p) {
  double w = p.wall_mm;
  for (std::size_t k = 0; k < causes.size(); ++k)
    if (causes[k].distribution == Distribution::shift && k != freed)
      w += causes[k].sensitivity(p) * causes[k].size;
  return w;
}

void row_of(std::span<const Cause> causes, std::span<const Scalar> scalars, const CausePoint& p,
            double* row) {
  for (std::size_t s = 0; s < scalars.size(); ++s) {
    const Cause& cause = causes[scalars[s].cause];
    row[s] = scalars[s].second ? cause.sensitivity_2(p) : cause.sensitivity(p);
  }
}

} // namespace

PieceTrials::PieceTrials(std::span<const Cause> causes, std::span<const WallSample> samples,
                         const TrialOptions& options, const RunContext& run)
    : draws_(causes, options.trials, options.seed, options.freed_shift, run),
      sizes_(sizes_of(causes)), valid_up_to_(causes.size(), kInfinity) {
  const std::vector<Scalar>& scalars = draws_.scalars();
  const std::size_t n = samples.size(), m = scalars.size();
  const std::vector<double> reach = draws_.largest(run);

  std::vector<double> wall(n), against(n);
  for_blocks(n, kSampleGrain, run, [&](std::size_t begin, std::size_t end) {
    std::vector<double> row(m);
    for (std::size_t i = begin; i < end; ++i) {
      const CausePoint p = point_of(samples[i]);
      wall[i] = shifted_wall(causes, options.freed_shift, p);
      row_of(causes, scalars, p, row.data());
      for (std::size_t s = 0; s < m; ++s)
        against[i] += std::abs(row[s]) * reach[s];
    }
  });

  double keep_to = kInfinity;
  for (std::size_t i = 0; i < n; ++i)
    keep_to = std::min(keep_to, wall[i] + against[i]);
  const double stretch = options.keep_below_mm ? 2.0 : 1.0;
  keep_to = std::max(keep_to, options.keep_below_mm.value_or(keep_to));
  std::vector<std::size_t> kept, dropped;
  for (std::size_t i = 0; i < n; ++i)
    (wall[i] - stretch * against[i] <= keep_to ? kept : dropped).push_back(i);
  if (options.keep_below_mm)
    for (const std::size_t i : dropped) {
      const double spare = wall[i] - against[i] - *options.keep_below_mm;
      lower_valid_sizes(causes, point_of(samples[i]), spare, reach);
    }

  std::vector<double> rows(kept.size() * m);
  for_blocks(kept.size(), kSampleGrain, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i)
      row_of(causes, scalars, point_of(samples[kept[i]]), rows.data() + i * m);
  });
  const std::vector<std::size_t> leaders = share_columns(rows, kept.size(), m);
  std::vector<double> w, c, column_reach(columns_, 0.0);
  w.reserve(kept.size());
  c.reserve(kept.size() * columns_);
  for (std::size_t i = 0; i < kept.size(); ++i) {
    w.push_back(wall[kept[i]]);
    for (const std::size_t s : leaders)
      c.push_back(rows[i * m + s]);
  }
  for (std::size_t s = 0; s < m; ++s)
    column_reach[shares_[s].column] += std::abs(shares_[s].factor) * reach[s] / 2;
  tree_.emplace(std::move(w), std::move(c), columns_, column_reach);
}

// A dropped sample has `spare` above the limit with every error at its largest. A cause that grows
// by d makes its scalar grow by d times its largest unit draw, and may do so twice: both scalars of
// a disc, or a finishing bit's error together with the roughing mark it leaves.
void PieceTrials::lower_valid_sizes(std::span<const Cause> causes, const CausePoint& p,
                                    double spare, std::span<const double> reach) {
  const std::vector<Scalar>& scalars = draws_.scalars();
  for (std::size_t s = 0; s < scalars.size(); ++s) {
    const std::size_t k = scalars[s].cause;
    const Cause& cause = causes[k];
    const double c = std::abs(scalars[s].second ? cause.sensitivity_2(p) : cause.sensitivity(p));
    const double unit = cause.distribution == Distribution::overtaken || sizes_[k] == 0
                            ? kLargestUnitDraw
                            : reach[s] / std::abs(sizes_[k]);
    if (c > 0 && unit > 0)
      valid_up_to_[k] = std::min(valid_up_to_[k], std::abs(sizes_[k]) + spare / (2 * c * unit));
  }
}

// Scalar s shares the column of scalar r when c_s = factor c_r at every sample.
std::vector<std::size_t> PieceTrials::share_columns(std::span<const double> rows, std::size_t n,
                                                    std::size_t m) {
  std::vector<std::size_t> leaders;
  shares_.resize(m);
  const auto factor_to = [&](std::size_t s, std::size_t r) -> std::optional<double> {
    double factor = 0;
    for (std::size_t i = 0; i < n; ++i) {
      const double a = rows[i * m + r], b = rows[i * m + s];
      if (factor == 0 && a != 0)
        factor = b / a;
      if (b != factor * a)
        return std::nullopt;
    }
    return factor;
  };
  for (std::size_t s = 0; s < m; ++s) {
    std::optional<double> factor;
    std::size_t g = 0;
    for (; g < leaders.size() && !factor; ++g)
      factor = factor_to(s, leaders[g]);
    if (factor) {
      shares_[s] = {g - 1, *factor};
    } else {
      shares_[s] = {leaders.size(), 1};
      leaders.push_back(s);
    }
  }
  columns_ = leaders.size();
  return leaders;
}

void PieceTrials::columns_from(std::span<const double> errors, std::span<double> out) const {
  std::fill(out.begin(), out.end(), 0.0);
  for (std::size_t s = 0; s < errors.size(); ++s)
    out[shares_[s].column] += shares_[s].factor * errors[s];
}

std::vector<double> PieceTrials::least_walls(const RunContext& run) const {
  std::vector<double> least(trials());
  for_blocks(trials(), kTrialGrain, run, [&](std::size_t begin, std::size_t end) {
    std::vector<double> errors(shares_.size()), columns(columns_);
    for (std::size_t t = begin; t < end; ++t) {
      draws_.errors(t, sizes_, errors);
      columns_from(errors, columns);
      least[t] = tree_->least(columns);
    }
  });
  return least;
}

bool PieceTrials::fails(std::size_t trial, std::span<const double> sizes, double limit_mm) const {
  std::vector<double> errors(shares_.size()), columns(columns_);
  draws_.errors(trial, sizes, errors);
  columns_from(errors, columns);
  return tree_->any_below(columns, limit_mm);
}

double PieceTrials::least_expected(std::span<const double> sizes) const {
  std::vector<double> errors(shares_.size()), columns(columns_);
  draws_.means(sizes, errors);
  columns_from(errors, columns);
  return tree_->least(columns);
}

} // namespace leastwall
