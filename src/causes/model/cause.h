// One cause of error and what it does to the wall at each sample.
//
// The wall at sample p is  t(p) + sum_k c_k(p) e_k:  every cause k has one or two scalar errors e_k
// (two for play of a pin in a hole) shared by the whole piece, and a sensitivity c_k(p) for each.
// An error that varies from place to place has many (causes/model/error_field.h).
// Signs: a positive change is a thicker wall. e is in `unit`, c in mm per unit.
#pragma once

#include "causes/model/cause_id.h"
#include "causes/model/change_bound.h"
#include "causes/model/distribution.h"
#include "causes/model/error_field.h"
#include "space/wall_sample.h"

#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// A roughing bit that went deeper than the finishing bit: e = min(0, allowance + r - sum of e of
/// the finishing causes), r distributed as the cause says.
struct RoughingOvercut {
  double allowance_mm = 0; ///< what roughing leaves
  /// The finishing bit's own errors by their index in the list of causes (one scalar each,
  /// positive = cuts too shallow).
  std::vector<std::size_t> finishing;
};

/// What a flat witness pad, cut by the same two programs in the waste, tells about the error.
enum class OnPad {
  same,              ///< the same error is in the pad: measuring the pad takes it out
  own_draw,          ///< the pad has its own, independent error of the same size
  difference_within, ///< pad and wall differ by at most `size` again
  absent             ///< the pad does not have it (sanding, ...)
};

using Sensitivity = std::function<double(const WallSample&)>;

struct Cause {
  CauseId id;
  /// The key of a job that states `size`, e.g. "side_a.touch_off" or "bed.flatness"; causes with
  /// the same one are errors of their own, but as large as the key says, all of them. That of a
  /// known shift has one cause. Empty: a shape, or a difference of two keys.
  std::string setting;
  Distribution distribution = Distribution::rectangle;
  double size = 0; ///< of e, in `unit`, >= 0 except for a shift
  /// More than this cannot be: its key would contradict another one.
  std::optional<double> most;
  std::string unit = "mm"; ///< of e: "mm", "mm/m", "%", "" (a known shape: e = 1)
  /// Change of the wall per unit of e (first scalar).
  Sensitivity sensitivity;
  /// Per unit of the second scalar; set for `disc` and, as root-sum-square, with a field.
  Sensitivity sensitivity_2;
  /// Of the sensitivity; of a disc of the length of both; of a field of sum |c_i|. Absent: not
  /// known, then every place is asked.
  ChangeBound bound;
  /// Set: the error varies over the piece; for `rectangle` and `normal` only (set_field).
  std::shared_ptr<const ErrorField> field;
  /// For a shift that lies one of several ways for the whole piece (the board on the bed): each of
  /// them; `sensitivity` is then the least (thinnest) of them at each sample.
  std::vector<Sensitivity> ways;
  OnPad on_pad = OnPad::same;
  /// The roughing bit of the side hangs from the same datum without this error.
  bool finishing_bit_alone = false;
  std::optional<RoughingOvercut> overcut; ///< set: not r itself acts, but what it overcuts
};

/// Whether it is an error of unknown size, not a known shift or nothing.
inline bool may_vary(const Cause& cause) {
  return cause.distribution != Distribution::shift && cause.size > 0;
}

} // namespace leastwall
