// The least of many linear functions of errors, most of them shared by all samples and some acting
// in a few places only: one tree (linear_min_tree.h) for each set of places that share their own
// errors.
#pragma once

#include "base/run_context.h"
#include "budget/trials/linear_min_tree.h"
#include "budget/trials/local_errors.h"
#include "budget/trials/shared_sensitivities.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace leastwall {

/// Samples with the same local errors are one stand; there are at most this many, so that a trial's
/// work is bounded: with more, neighbours are put together and the errors of some are then simply
/// zero in the others.
inline constexpr std::size_t kMaxStands = 1024;

struct ForestRows {
  std::vector<double> w;                ///< wall, known shifts in
  std::vector<double> c;                ///< row by row, `columns` each: errors that all share
  std::vector<std::size_t> first_share; ///< w.size() + 1 of them; empty where nothing is local
  std::vector<ErrorShare> shares;       ///< local errors, each row's by rising number
};

class LinearMinForest {
 public:
  /// `column_low`, `column_high`: every sum of shared errors asked for lies between, where
  /// `sizes_as_stated`; then local errors keep to `sizes`, too. `local` must outlive this. At least
  /// one row.
  LinearMinForest(ForestRows rows, std::size_t columns, const LocalErrors& local,
                  std::span<const double> sizes, std::span<const double> column_low,
                  std::span<const double> column_high, bool sizes_as_stated, const RunContext& run);

  /// What one trial brings: sums of the shared errors by column, sizes of all causes, and the
  /// number from which local errors are drawn; without a number they are 0.
  struct Trial {
    std::span<const double> sums, sizes;
    std::optional<std::size_t> number;
  };
  /// min over rows of w + c.e + local, or `start` when none is below that.
  double least(const Trial& trial, double start) const { return search(trial, start, false); }
  /// Whether some row is below the limit.
  bool any_below(const Trial& trial, double limit) const {
    return search(trial, limit, true) < limit;
  }

 private:
  struct Stand {
    std::vector<std::uint32_t> errors; ///< local ones, rising
    SharedSensitivities columns;       ///< of the shared sums, then `errors`
    LinearMinTree tree;
    double w = 0;                      ///< least of its rows
    double low = 0;                    ///< no trial with the stated sizes is below
    std::vector<double> c_low, c_high; ///< of the shared columns
    std::vector<double> local;         ///< by cause of local_causes_: most of sum |c| unit reach
  };
  double search(const Trial& trial, double best, bool first) const;
  Stand stand_of(const ForestRows& rows, std::span<const std::uint32_t> mine,
                 std::span<const double> sizes, std::span<const double> column_low,
                 std::span<const double> column_high, const RunContext& run) const;

  std::size_t columns_;
  const LocalErrors& local_;
  bool sizes_as_stated_;
  std::vector<std::size_t> local_causes_;
  std::optional<LinearMinTree> only_; ///< where nothing is local
  std::vector<Stand> stands_;         ///< by rising `low`
};

} // namespace leastwall
