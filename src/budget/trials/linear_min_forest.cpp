#include "budget/trials/linear_min_forest.h"

#include "base/parallel.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

namespace leastwall {
namespace {

using Numbers = std::vector<std::uint32_t>;

/// Rows of each stand, by rising row; neighbours in the order of their errors are put together
/// while there are too many.
std::vector<Numbers> stands_of(const ForestRows& rows) {
  std::map<Numbers, Numbers> by_errors;
  Numbers errors;
  for (std::size_t i = 0; i < rows.w.size(); ++i) {
    errors.clear();
    for (std::size_t s = rows.first_share[i]; s < rows.first_share[i + 1]; ++s)
      errors.push_back(rows.shares[s].error);
    by_errors[errors].push_back(static_cast<std::uint32_t>(i));
  }
  const std::size_t together = (by_errors.size() + kMaxStands - 1) / kMaxStands;
  std::vector<Numbers> stands;
  std::size_t n = 0;
  for (auto& [key, mine] : by_errors) {
    if (n++ % together == 0)
      stands.emplace_back();
    stands.back().insert(stands.back().end(), mine.begin(), mine.end());
  }
  for (Numbers& stand : stands)
    std::sort(stand.begin(), stand.end());
  return stands;
}

std::vector<double> quarter(std::span<const double> low, std::span<const double> high) {
  std::vector<double> usual(low.size());
  for (std::size_t j = 0; j < usual.size(); ++j)
    usual[j] = (high[j] - low[j]) / 4;
  return usual;
}

} // namespace

LinearMinForest::Stand
LinearMinForest::stand_of(const ForestRows& rows, std::span<const std::uint32_t> mine,
                          std::span<const double> sizes, std::span<const double> column_low,
                          std::span<const double> column_high, const RunContext& run) const {
  Numbers errors;
  for (const std::uint32_t i : mine)
    for (std::size_t s = rows.first_share[i]; s < rows.first_share[i + 1]; ++s)
      errors.push_back(rows.shares[s].error);
  std::sort(errors.begin(), errors.end());
  errors.erase(std::unique(errors.begin(), errors.end()), errors.end());
  const std::size_t m = columns_ + errors.size();

  std::vector<double> dense(mine.size() * m, 0.0), w(mine.size());
  std::vector<double> c_low(columns_, std::numeric_limits<double>::infinity());
  std::vector<double> c_high(columns_, -std::numeric_limits<double>::infinity());
  std::vector<double> local(local_causes_.size(), 0.0);
  double least_w = std::numeric_limits<double>::infinity(), low = least_w;
  for (std::size_t k = 0; k < mine.size(); ++k) {
    const std::size_t i = mine[k];
    double* row = dense.data() + k * m;
    w[k] = rows.w[i];
    least_w = std::min(least_w, w[k]);
    double row_low = w[k];
    for (std::size_t j = 0; j < columns_; ++j) {
      const double c = rows.c[i * columns_ + j];
      row[j] = c;
      c_low[j] = std::min(c_low[j], c);
      c_high[j] = std::max(c_high[j], c);
      row_low += std::min(c * column_low[j], c * column_high[j]);
    }
    std::vector<double> reach(local_causes_.size(), 0.0);
    for (std::size_t s = rows.first_share[i]; s < rows.first_share[i + 1]; ++s) {
      const ErrorShare& share = rows.shares[s];
      row[columns_ +
          static_cast<std::size_t>(std::lower_bound(errors.begin(), errors.end(), share.error) -
                                   errors.begin())] = share.c;
      const std::size_t cause = local_.cause_of(share.error);
      const double unit = std::abs(share.c) * local_.unit_reach(share.error);
      row_low -= unit * std::abs(sizes[cause]);
      for (std::size_t q = 0; q < local_causes_.size(); ++q)
        if (local_causes_[q] == cause)
          reach[q] += unit;
    }
    for (std::size_t q = 0; q < reach.size(); ++q)
      local[q] = std::max(local[q], reach[q]);
    low = std::min(low, row_low);
  }

  SharedSensitivities columns(dense, m);
  std::vector<double> error_low(column_low.begin(), column_low.end());
  std::vector<double> error_high(column_high.begin(), column_high.end());
  for (const std::uint32_t e : errors) {
    const double most = std::abs(sizes[local_.cause_of(e)]) * local_.unit_reach(e);
    error_low.push_back(-most);
    error_high.push_back(most);
  }
  std::vector<double> sum_low(columns.count()), sum_high(columns.count());
  columns.bounds(error_low, error_high, sum_low, sum_high);
  const std::vector<double> usual = quarter(sum_low, sum_high);
  std::vector<double> c(mine.size() * columns.count());
  for (std::size_t k = 0; k < mine.size(); ++k)
    columns.reduce(std::span(dense).subspan(k * m, m),
                   std::span(c).subspan(k * columns.count(), columns.count()));
  ErrorReach reach{usual, {}, {}};
  if (sizes_as_stated_)
    reach = {usual, sum_low, sum_high};
  LinearMinTree tree(std::move(w), std::move(c), columns.count(), reach, run);
  return {std::move(errors), std::move(columns), std::move(tree), least_w, low,
          std::move(c_low),  std::move(c_high),  std::move(local)};
}

LinearMinForest::LinearMinForest(ForestRows rows, std::size_t columns, const LocalErrors& local,
                                 std::span<const double> sizes, std::span<const double> column_low,
                                 std::span<const double> column_high, bool sizes_as_stated,
                                 const RunContext& run)
    : columns_(columns), local_(local), sizes_as_stated_(sizes_as_stated) {
  if (rows.shares.empty()) {
    const std::vector<double> usual = quarter(column_low, column_high);
    ErrorReach reach{usual, {}, {}};
    if (sizes_as_stated)
      reach = {usual, column_low, column_high};
    only_.emplace(std::move(rows.w), std::move(rows.c), columns, reach, run);
    return;
  }
  for (const ErrorShare& share : rows.shares)
    if (const std::size_t k = local.cause_of(share.error);
        std::find(local_causes_.begin(), local_causes_.end(), k) == local_causes_.end())
      local_causes_.push_back(k);
  const std::vector<Numbers> mine = stands_of(rows);
  std::vector<std::optional<Stand>> made(mine.size());
  for_blocks(mine.size(), 1, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t s = begin; s < end; ++s)
      made[s].emplace(stand_of(rows, mine[s], sizes, column_low, column_high, run));
  });
  for (std::optional<Stand>& stand : made)
    stands_.push_back(std::move(*stand));
  std::stable_sort(stands_.begin(), stands_.end(),
                   [](const Stand& a, const Stand& b) { return a.low < b.low; });
}

// A stand is passed over when no row of it can be below the best so far: by what its rows can reach
// at all, then by this trial's shared errors with its local ones at their limits.
double LinearMinForest::search(const Trial& trial, double best, bool first) const {
  if (only_) {
    if (first)
      return only_->any_below(trial.sums, best) ? -std::numeric_limits<double>::infinity() : best;
    return only_->least(trial.sums, best);
  }
  thread_local std::vector<double> values, sums;
  for (const Stand& stand : stands_) {
    if (sizes_as_stated_ && stand.low >= best)
      break;
    double bound = stand.w;
    for (std::size_t j = 0; j < columns_; ++j)
      bound += std::min(stand.c_low[j] * trial.sums[j], stand.c_high[j] * trial.sums[j]);
    if (trial.number)
      for (std::size_t q = 0; q < local_causes_.size(); ++q)
        bound -= stand.local[q] * std::abs(trial.sizes[local_causes_[q]]);
    if (bound >= best)
      continue;
    values.assign(trial.sums.begin(), trial.sums.end());
    for (const std::uint32_t e : stand.errors)
      values.push_back(trial.number
                           ? trial.sizes[local_.cause_of(e)] * local_.unit_draw(e, *trial.number)
                           : 0.0);
    sums.resize(stand.columns.count());
    stand.columns.sum(values, sums);
    if (first) {
      if (stand.tree.any_below(sums, best))
        return -std::numeric_limits<double>::infinity();
    } else {
      best = stand.tree.least(sums, best);
    }
  }
  return best;
}

} // namespace leastwall
