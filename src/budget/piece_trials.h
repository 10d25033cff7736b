// Trials of the whole piece: in each, one draw of every error serves all samples.
#pragma once

#include "base/run_context.h"
#include "budget/least_tree.h"
#include "budget/trial_draws.h"
#include "setup/cause.h"
#include "wall/wall_map.h"

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace leastwall {

struct TrialOptions {
  std::size_t trials = 20000;
  std::uint64_t seed = 1;
  /// Keep every sample whose wall might come under this, too, when the errors are twice as large
  /// (for the question how large an error may be). Absent: only those that can be the least.
  std::optional<double> keep_below_mm;
  /// This known shift may be given another size later on (see TrialDraws).
  std::optional<std::size_t> freed_shift;
};

class PieceTrials {
 public:
  /// A sample cannot be the least in any trial, and is left out, when its wall with every error at
  /// the largest drawn against it is above some other sample's wall with every error at the
  /// largest drawn in its favour: w_p - sum |c_p| max|e| > min_q (w_q + sum |c_q| max|e|).
  PieceTrials(std::span<const Cause> causes, std::span<const WallSample> samples,
              const TrialOptions& options, const RunContext& run);

  /// The least wall of each trial, mm, in the order of the trials.
  std::vector<double> least_walls(const RunContext& run) const;

  /// Whether some wall of the trial is under `limit_mm`, with these sizes of the causes. Sizes of
  /// known shifts are not used (they are in the walls), except of the freed one.
  bool fails(std::size_t trial, std::span<const double> sizes, double limit_mm) const;

  /// The least expected wall (middle of one-sided errors, all others 0) with these sizes.
  double least_expected(std::span<const double> sizes) const;

  /// The largest size of cause k up to which the samples left out cannot come under
  /// `keep_below_mm`; infinite when none was left out.
  double valid_up_to(std::size_t k) const { return valid_up_to_[k]; }

  std::size_t trials() const { return draws_.trials(); }
  std::size_t kept() const { return tree_->rows(); }

 private:
  void lower_valid_sizes(std::span<const Cause> causes, const CausePoint& p, double spare,
                         std::span<const double> reach);
  std::vector<std::size_t> share_columns(std::span<const double> rows, std::size_t n,
                                         std::size_t m);
  void columns_from(std::span<const double> errors, std::span<double> out) const;

  TrialDraws draws_;
  std::vector<double> sizes_;
  // Causes whose sensitivities are the same everywhere but for a factor share a column.
  struct Share {
    std::size_t column = 0;
    double factor = 1;
  };
  std::vector<Share> shares_; // per scalar
  std::size_t columns_ = 0;
  std::vector<double> valid_up_to_;
  std::optional<LeastTree> tree_;
};

} // namespace leastwall
