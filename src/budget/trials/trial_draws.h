// The errors of every trial: one draw of each cause for the whole piece.
#pragma once

#include "base/run_context.h"
#include "causes/model/cause.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace leastwall {

/// One scalar error: a cause has none (known shift; a field, see local_errors.h), one, or two
/// (disc).
struct Scalar {
  std::size_t cause = 0;
  bool second = false;
};

/// `freed`: this known shift gets a scalar of its own, so that its size can be changed.
std::vector<Scalar> scalars_of(std::span<const Cause> causes,
                               std::optional<std::size_t> freed = std::nullopt);

/// Draws with size 1; sizes are applied when a trial is read, so that the same draws serve any
/// size of a cause. Two bodies of one cause draw from the stream of its name.
class TrialDraws {
 public:
  TrialDraws(std::span<const Cause> causes, std::size_t trials, std::uint64_t seed,
             std::optional<std::size_t> freed, const RunContext& run);

  std::size_t trials() const { return trials_; }
  const std::vector<Scalar>& scalars() const { return scalars_; }

  /// Of every cause: no draw with size 1 is larger; of a field what its distribution allows. Of an
  /// overcut its own draw, before the allowance. Of `causes` as given.
  const std::vector<double>& largest_units() const { return largest_units_; }

  /// Errors of one trial, one per scalar, with `sizes[k]` in place of causes[k].size. For an
  /// overcut: min(0, allowance + r - sum of its finishing causes).
  void errors(std::size_t trial, std::span<const double> sizes, std::span<double> out) const;

  /// The unit draw of cause k in that trial, without sign; of a disc its length. Not of a field,
  /// nor of a known shift.
  double unit(std::size_t trial, std::size_t k) const;

  /// Expected errors, one per scalar: half the size of a half-uniform one, the size of a freed
  /// shift, otherwise 0.
  void means(std::span<const double> sizes, std::span<double> out) const;

 private:
  void find_largest_units();

  std::vector<Cause> causes_;
  std::vector<Scalar> scalars_;
  std::vector<std::size_t> scalar_of_cause_; // first scalar, by cause
  std::size_t trials_ = 0;
  std::vector<double> unit_; // trials x scalars
  std::vector<double> largest_units_;
};

/// The sizes of the causes as they are.
std::vector<double> sizes_of(std::span<const Cause> causes);

} // namespace leastwall
