#include "budget/trials/piece_trials.h"

#include "base/parallel.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

namespace leastwall {
namespace {

constexpr std::size_t kSampleGrain = 2048, kTrialGrain = 128, kDrawGrain = 1024;
constexpr std::size_t kCandidates = 4096; // samples tried first
constexpr std::size_t kProbes = 257;      // samples on which columns are found
constexpr std::size_t kKeepAll = 200000;  // samples that are kept for any size of error
constexpr double kStretch = 4;            // of the errors, beyond that many samples
constexpr double kInfinity = std::numeric_limits<double>::infinity();

} // namespace

double held_by_all_but(std::size_t accepted, std::vector<double> walls) {
  const auto at = walls.begin() + static_cast<std::ptrdiff_t>(std::min(accepted, walls.size() - 1));
  std::nth_element(walls.begin(), at, walls.end());
  return *at;
}

std::shared_ptr<const TrialDraws> draws_of(std::span<const Cause> causes,
                                           const TrialOptions& options, const RunContext& run) {
  return std::make_shared<const TrialDraws>(causes, options.trials, options.seed,
                                            options.freed_shift, run);
}

PieceTrials::PieceTrials(std::span<const Cause> causes, std::span<const WallSample> samples,
                         const TrialOptions& options, const RunContext& run)
    : PieceTrials(causes, samples, options, draws_of(causes, options, run), run) {}

PieceTrials::PieceTrials(std::span<const Cause> causes, std::span<const WallSample> samples,
                         const TrialOptions& options, std::shared_ptr<const TrialDraws> draws,
                         const RunContext& run)
    : causes_(causes), samples_(samples), options_(options), draws_(std::move(draws)),
      local_(causes, options.seed), sizes_(sizes_of(causes)) {
  const std::size_t m = draws_->scalars().size();
  std::vector<std::size_t> probes;
  const std::size_t step = std::max<std::size_t>(1, samples.size() / kProbes);
  for (std::size_t i = 0; i < samples.size(); i += step)
    probes.push_back(i);
  // Columns from some samples, checked on all; a sample that does not fit joins the probes.
  for (;;) {
    std::vector<double> rows(probes.size() * m);
    for (std::size_t i = 0; i < probes.size(); ++i)
      sensitivities_at(causes, draws_->scalars(), samples[probes[i]],
                       std::span(rows).subspan(i * m, m));
    columns_.emplace(rows, m);
    find_column_reach(run);
    const std::size_t misfit = look_at_all(run);
    if (misfit == samples.size())
      return;
    probes.push_back(misfit);
  }
}

// Least and largest of each column over all trials.
void PieceTrials::find_column_reach(const RunContext& run) {
  const std::size_t m = draws_->scalars().size(), g = columns_->count();
  const std::size_t blocks = (trials() + kDrawGrain - 1) / kDrawGrain;
  std::vector<double> low(blocks * g, kInfinity), high(blocks * g, -kInfinity);
  for_blocks(trials(), kDrawGrain, run, [&](std::size_t begin, std::size_t end) {
    std::vector<double> errors(m), sums(g);
    double* l = low.data() + begin / kDrawGrain * g;
    double* h = high.data() + begin / kDrawGrain * g;
    for (std::size_t t = begin; t < end; ++t) {
      draws_->errors(t, sizes_, errors);
      columns_->sum(errors, sums);
      for (std::size_t j = 0; j < g; ++j) {
        l[j] = std::min(l[j], sums[j]);
        h[j] = std::max(h[j], sums[j]);
      }
    }
  });
  // What is expected lies among what is drawn, or is taken in.
  std::vector<double> means(draws_->scalars().size());
  column_low_.resize(g);
  draws_->means(sizes_, means);
  columns_->sum(means, column_low_);
  column_high_ = column_low_;
  for (std::size_t b = 0; b < blocks; ++b)
    for (std::size_t j = 0; j < g; ++j) {
      column_low_[j] = std::min(column_low_[j], low[b * g + j]);
      column_high_[j] = std::max(column_high_[j], high[b * g + j]);
    }
}

// Fills wall_ and low_. Returns the first sample that the columns do not fit, or the number of
// samples.
std::size_t PieceTrials::look_at_all(const RunContext& run) {
  const std::size_t m = draws_->scalars().size(), g = columns_->count();
  wall_.resize(samples_.size());
  low_.resize(samples_.size());
  std::vector<std::size_t> shifts;
  for (std::size_t k = 0; k < causes_.size(); ++k)
    if (causes_[k].distribution == Distribution::shift && k != options_.freed_shift)
      shifts.push_back(k);
  std::atomic<std::size_t> misfit{samples_.size()};
  for_blocks(samples_.size(), kSampleGrain, run, [&](std::size_t begin, std::size_t end) {
    std::vector<double> row(m), c(g);
    std::vector<ErrorShare> shares;
    for (std::size_t i = begin; i < end; ++i) {
      const WallSample p = samples_[i];
      sensitivities_at(causes_, draws_->scalars(), p, row);
      if (!columns_->fits(row)) {
        std::size_t seen = misfit.load();
        while (i < seen && !misfit.compare_exchange_weak(seen, i)) {
        }
        return;
      }
      double w = p.wall_mm;
      for (const std::size_t k : shifts)
        w += causes_[k].sensitivity(p) * causes_[k].size;
      columns_->reduce(row, c);
      double least = w;
      for (std::size_t j = 0; j < g; ++j)
        least += std::min(c[j] * column_low_[j], c[j] * column_high_[j]);
      shares.clear();
      local_.shares_at(p, shares);
      for (const ErrorShare& s : shares)
        least -= std::abs(s.c) * sizes_[local_.cause_of(s.error)] * local_.unit_reach(s.error);
      wall_[i] = w;
      low_[i] = least;
    }
  });
  return misfit;
}

LinearMinForest PieceTrials::forest_of(std::span<const std::size_t> kept, bool sizes_as_stated,
                                       const RunContext& run) const {
  const std::size_t m = draws_->scalars().size(), g = columns_->count();
  ForestRows rows;
  rows.w.resize(kept.size());
  rows.c.resize(kept.size() * g);
  for_blocks(kept.size(), kSampleGrain, run, [&](std::size_t begin, std::size_t end) {
    std::vector<double> row(m);
    for (std::size_t i = begin; i < end; ++i) {
      rows.w[i] = wall_[kept[i]];
      sensitivities_at(causes_, draws_->scalars(), samples_[kept[i]], row);
      columns_->reduce(row, std::span(rows.c).subspan(i * g, g));
    }
  });
  if (local_.count() > 0) {
    rows.first_share.push_back(0);
    for (const std::size_t i : kept) {
      local_.shares_at(samples_[i], rows.shares);
      rows.first_share.push_back(rows.shares.size());
    }
  }
  return LinearMinForest(std::move(rows), g, local_, sizes_, column_low_, column_high_,
                         sizes_as_stated, run);
}

std::vector<double> PieceTrials::search(const LinearMinForest& forest,
                                        std::span<const double> start,
                                        const RunContext& run) const {
  std::vector<double> least(trials());
  for_blocks(trials(), kTrialGrain, run, [&](std::size_t begin, std::size_t end) {
    std::vector<double> errors(draws_->scalars().size()), sums(columns_->count());
    for (std::size_t t = begin; t < end; ++t) {
      draws_->errors(t, sizes_, errors);
      columns_->sum(errors, sums);
      least[t] = forest.least({sums, sizes_, t}, start[t]);
    }
  });
  return least;
}

std::vector<double> PieceTrials::least_of_candidates(std::vector<unsigned char>& looked_at,
                                                     const RunContext& run) const {
  std::vector<std::size_t> order(samples_.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const std::size_t take = std::min(kCandidates, order.size());
  std::nth_element(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(take - 1),
                   order.end(), [&](std::size_t p, std::size_t q) {
                     return low_[p] < low_[q] || (low_[p] == low_[q] && p < q);
                   });
  order.resize(take);
  looked_at.assign(samples_.size(), 0);
  for (const std::size_t i : order)
    looked_at[i] = 1;
  return search(forest_of(order, true, run), std::vector<double>(trials(), kInfinity), run);
}

std::vector<double> PieceTrials::look_at_rest(std::vector<double> least, double below_mm,
                                              const std::vector<unsigned char>& looked_at,
                                              const RunContext& run) const {
  std::vector<std::size_t> rest;
  for (std::size_t i = 0; i < samples_.size(); ++i)
    if (!looked_at[i] && low_[i] < below_mm)
      rest.push_back(i);
  if (rest.empty())
    return least;
  std::vector<double> start(least);
  for (double& s : start)
    s = std::min(s, below_mm);
  const std::vector<double> found = search(forest_of(rest, true, run), start, run);
  for (std::size_t t = 0; t < least.size(); ++t)
    least[t] = std::min(least[t], found[t]);
  return least;
}

std::vector<double> PieceTrials::least_walls(std::optional<double> below_mm,
                                             const RunContext& run) const {
  std::vector<unsigned char> looked_at;
  std::vector<double> least = least_of_candidates(looked_at, run);
  const double most = *std::max_element(least.begin(), least.end());
  return look_at_rest(std::move(least), below_mm.value_or(most), looked_at, run);
}

PieceTrials::Tail PieceTrials::tail(std::size_t accepted, double limit_mm,
                                    const RunContext& run) const {
  std::vector<unsigned char> looked_at;
  std::vector<double> least = least_of_candidates(looked_at, run);
  // More samples only make walls thinner: the answer is not above this.
  const double not_above = held_by_all_but(accepted, least);
  Tail tail;
  tail.least = look_at_rest(std::move(least), std::max(not_above, limit_mm), looked_at, run);
  tail.guaranteed_mm = held_by_all_but(accepted, tail.least);
  return tail;
}

// A sample left out has `spare` above the limit with every column at its worst. A cause that grows
// by d makes its scalar grow by d times its largest unit draw, and may do so twice: both scalars of
// a disc, or a finishing bit's error together with the roughing mark it leaves.
double PieceTrials::spare_size(std::size_t scalar, const WallSample& p, double spare) const {
  const Scalar& s = draws_->scalars()[scalar];
  const Cause& cause = causes_[s.cause];
  return spare_size(cause, s.second ? cause.sensitivity_2(p) : cause.sensitivity(p), spare);
}

double PieceTrials::spare_size(const Cause& cause, double sensitivity, double spare) {
  const double c = std::abs(sensitivity);
  const double draw = cause.overcut ? kLargestNormalDraw : cause.distribution.largest_draw();
  return c > 0 ? std::abs(cause.size) + spare / (2 * c * draw) : kInfinity;
}

// For each cause the largest size that spares every one of these samples.
std::vector<double> PieceTrials::least_spare_sizes(std::span<const std::size_t> of, double limit_mm,
                                                   const RunContext& run) const {
  const std::size_t n = causes_.size(), m = draws_->scalars().size();
  const std::size_t blocks = (of.size() + kSampleGrain - 1) / kSampleGrain;
  std::vector<double> per_block(blocks * n, kInfinity);
  for_blocks(of.size(), kSampleGrain, run, [&](std::size_t begin, std::size_t end) {
    double* most = per_block.data() + begin / kSampleGrain * n;
    for (std::size_t i = begin; i < end; ++i) {
      const WallSample p = samples_[of[i]];
      const double spare = low_[of[i]] - limit_mm;
      for (std::size_t s = 0; s < m; ++s) {
        double& valid = most[draws_->scalars()[s].cause];
        valid = std::min(valid, spare_size(s, p, spare));
      }
      for (std::size_t k = 0; k < n; ++k)
        if (causes_[k].field) // its sensitivity is that of all its errors at their limits
          most[k] = std::min(most[k], spare_size(causes_[k], causes_[k].sensitivity(p), spare));
    }
  });
  std::vector<double> least(n, kInfinity);
  for (std::size_t b = 0; b < blocks; ++b)
    for (std::size_t k = 0; k < n; ++k)
      least[k] = std::min(least[k], per_block[b * n + k]);
  return least;
}

void PieceTrials::prepare_sizes(double limit_mm, const RunContext& run) {
  limit_mm_ = limit_mm;
  kept_.clear();
  std::vector<std::size_t> left_out;
  for (std::size_t i = 0; i < samples_.size(); ++i)
    (samples_.size() <= kKeepAll ||
             low_[i] - (kStretch - 1) * std::abs(wall_[i] - low_[i]) < limit_mm
         ? kept_
         : left_out)
        .push_back(i);
  valid_up_to_ = least_spare_sizes(left_out, limit_mm, run);
  room_.assign(causes_.size(), 0.0);
  holds_ = std::ranges::all_of(kept_, [&](std::size_t i) { return low_[i] >= limit_mm; });
  if (holds_) {
    room_ = least_spare_sizes(kept_, limit_mm, run);
    for (std::size_t k = 0; k < room_.size(); ++k)
      room_[k] = std::min(room_[k], valid_up_to_[k]) - std::abs(causes_[k].size);
  }
  if (kept_.empty())
    kept_.push_back(0); // something to look at
}

void PieceTrials::prepare_search(const RunContext& run) {
  if (!sizes_forest_)
    sizes_forest_.emplace(forest_of(kept_, false, run));
}

bool PieceTrials::fails(std::size_t trial, std::span<const double> sizes) const {
  std::vector<double> errors(draws_->scalars().size()), sums(columns_->count());
  draws_->errors(trial, sizes, errors);
  columns_->sum(errors, sums);
  return sizes_forest_->any_below({sums, sizes, trial}, limit_mm_);
}

double PieceTrials::least_as_stated(std::size_t trial, double below_mm) const {
  std::vector<double> errors(draws_->scalars().size()), sums(columns_->count());
  draws_->errors(trial, sizes_, errors);
  columns_->sum(errors, sums);
  return sizes_forest_->least({sums, sizes_, trial}, below_mm);
}

double PieceTrials::least_expected(std::span<const double> sizes) const {
  std::vector<double> errors(draws_->scalars().size()), sums(columns_->count());
  draws_->means(sizes, errors);
  columns_->sum(errors, sums);
  return sizes_forest_->least({sums, sizes, std::nullopt}, kInfinity);
}

} // namespace leastwall
