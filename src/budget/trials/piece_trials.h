// Trials of the whole piece: in each, one draw of every error serves all samples; an error that
// varies over the piece is drawn once for each place where it is its own.
#pragma once

#include "base/run_context.h"
#include "budget/trials/linear_min_forest.h"
#include "budget/trials/local_errors.h"
#include "budget/trials/shared_sensitivities.h"
#include "budget/trials/trial_draws.h"
#include "causes/model/cause.h"
#include "wall/sampling/wall_map.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace leastwall {

struct TrialOptions {
  std::size_t trials = 20000;
  std::uint64_t seed = 1;
  /// This known shift may be given another size later on (see TrialDraws).
  std::optional<std::size_t> freed_shift;
};

/// The value that no more than `accepted` of `walls` fall short of; the largest where they are no
/// more than that.
double held_by_all_but(std::size_t accepted, std::vector<double> walls);

/// The draws of these causes, for several PieceTrials.
std::shared_ptr<const TrialDraws> draws_of(std::span<const Cause> causes,
                                           const TrialOptions& options, const RunContext& run);

/// Causes, draws and samples, prepared. Keeps references to `causes` and `samples`.
class PieceTrials {
 public:
  PieceTrials(std::span<const Cause> causes, std::span<const WallSample> samples,
              const TrialOptions& options, const RunContext& run);
  /// `draws`: draws_of() the same causes and options.
  PieceTrials(std::span<const Cause> causes, std::span<const WallSample> samples,
              const TrialOptions& options, std::shared_ptr<const TrialDraws> draws,
              const RunContext& run);

  /// For each trial its least wall where that is under `below_mm`, and `below_mm` or more where it
  /// is not; `below_mm` absent: the least wall of every trial. Which samples are looked at: a
  /// column of errors runs between the least and the largest sum drawn, so no trial brings sample p
  /// under  low_p = w_p + sum_j min(c_pj low_j, c_pj high_j).  The few thousand samples with the
  /// least low_p are tried first; of the others only those with low_p under `below_mm`, or under
  /// the largest of the least walls found so far, can change anything.
  std::vector<double> least_walls(std::optional<double> below_mm, const RunContext& run) const;

  /// The least wall that no more than `accepted` trials fall short of, and of each trial the least
  /// wall where that is under it or under `limit_mm`; the others are at least as large as both.
  struct Tail {
    double guaranteed_mm = 0;
    std::vector<double> least;
  };
  Tail tail(std::size_t accepted, double limit_mm, const RunContext& run) const;

  /// For one limit: keeps all samples, of very many only those that errors four times as large
  /// could bring under it, and finds for each cause the size up to which that is enough, and how
  /// far its size may change before any wall can be under it.
  void prepare_sizes(double limit_mm, const RunContext& run);
  /// Readies `fails` and `least_expected`, after prepare_sizes().
  void prepare_search(const RunContext& run);
  /// Whether some wall of the trial is under the limit with these sizes of the causes. Sizes of
  /// known shifts are not used (they are in the walls), except of the freed one.
  bool fails(std::size_t trial, std::span<const double> sizes) const;
  /// The least wall of the trial with the sizes as stated, where that is under `below_mm`.
  double least_as_stated(std::size_t trial, double below_mm) const;
  /// The least expected wall (middle of half-uniform errors, all others 0) with these sizes, where
  /// that is under the limit.
  double least_expected(std::span<const double> sizes) const;
  /// The largest size of cause k (without sign) that `fails` can be asked for.
  double valid_up_to(std::size_t k) const { return valid_up_to_[k]; }
  /// As long as the size of cause k alone changes by no more than this, either way, `fails` says no
  /// for every trial and `least_expected` is no less than the limit; of several causes the parts of
  /// their room that are used add up to no more than 1. 0 where a wall may be under it as stated.
  double room(std::size_t k) const { return room_[k]; }
  /// Whether that is so for the sizes as stated.
  bool holds_as_stated() const { return holds_; }

  std::size_t trials() const { return draws_->trials(); }

 private:
  void find_column_reach(const RunContext& run);
  std::size_t look_at_all(const RunContext& run);
  /// `sizes_as_stated`: the trees will only be asked for errors of this object's own trials.
  LinearMinForest forest_of(std::span<const std::size_t> kept, bool sizes_as_stated,
                            const RunContext& run) const;
  std::vector<double> search(const LinearMinForest& forest, std::span<const double> start,
                             const RunContext& run) const;
  std::vector<double> least_of_candidates(std::vector<unsigned char>& looked_at,
                                          const RunContext& run) const;
  std::vector<double> look_at_rest(std::vector<double> least, double below_mm,
                                   const std::vector<unsigned char>& looked_at,
                                   const RunContext& run) const;
  std::vector<double> least_spare_sizes(std::span<const std::size_t> of, double limit_mm,
                                        const RunContext& run) const;
  double spare_size(std::size_t scalar, const WallSample& p, double spare) const;
  static double spare_size(const Cause& cause, double sensitivity, double spare);

  std::span<const Cause> causes_;
  std::span<const WallSample> samples_;
  TrialOptions options_;
  std::shared_ptr<const TrialDraws> draws_;
  LocalErrors local_;
  std::vector<double> sizes_;
  std::optional<SharedSensitivities> columns_;
  std::vector<double> column_low_, column_high_;
  std::vector<double> wall_, low_; // per sample: known shifts in, and the least in any trial
  double limit_mm_ = 0;
  std::vector<std::size_t> kept_;
  std::vector<double> valid_up_to_, room_;
  bool holds_ = false;
  std::optional<LinearMinForest> sizes_forest_;
};

} // namespace leastwall
