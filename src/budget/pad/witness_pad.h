// Stop, measure, shift: a flat pad cut in the waste by the same two programs tells how far floor
// and skin really are apart, before the skin is finished.
#pragma once

#include "base/notice.h"
#include "budget/trials/outcome.h"
#include "setup/setup.h"

#include <optional>
#include <span>
#include <vector>

namespace leastwall {

struct WitnessPad {
  std::optional<Point2> at; ///< model x, y; default: see budget/pad/pad_place.h
  /// Design thickness of the pad, mm; default: the design wall at the thinnest place.
  std::optional<double> design_mm;
  std::optional<double> reading_mm;
  std::span<const Tri> cells; ///< of the samples: where the part is, seen from above
  Uncertain reading_error{0.02, Knowledge::limits}; ///< of measuring the pad
};

struct PadReport {
  Point2 at;            ///< its middle
  bool has_room = true; ///< clear of part, dowels and touch points; else it cannot be cut there
  double design_mm = 0;
  double floor_z_mm = 0, skin_z_mm = 0; ///< model z of its pocket floor and of its skin as drawn
  double expected_mm = 0;               ///< what the pad should read: design and known shifts there
  double low_mm = 0, high_mm = 0;       ///< a reading outside says that something else is wrong
  /// With the pad measured and the shift typed in, whatever the reading: the wall that holds and
  /// the verdict.
  double guaranteed_mm = 0;
  Verdict verdict = Verdict::safe;
  /// Set when there is a reading: type this Z shift in before finishing side B; positive raises the
  /// bit and leaves the wall thicker.
  std::optional<double> shift_mm;
  std::vector<Notice> notices;
};

/// The causes as they are left after the shift. The pad is flat (n_z = -1) and reads
/// R = P + sum c_k(pad) e_k + d, P its design thickness and d the error of measuring it; side B is
/// then finished P - R higher, which the wall takes times v = -n_z:
///   c_k'(p) = c_k(p) - v(p) c_k(pad),   and  -v(p) d.
/// Errors that pad and wall share straight along z vanish at the bottom of a form. What differs
/// from place to place stays, with the pad's own part on top (OnPad).
std::vector<Cause> causes_after_shift(std::span<const Cause> causes, const WallSample& pad,
                                      const Uncertain& reading_error);

/// `thinnest`: the sample with the least expected wall; the pad is taken to be cut at its height.
/// `setup.board.footprint` must be set. Throws InputError for a reading that is no number.
PadReport witness_pad(const Setup& setup, std::span<const Cause> causes,
                      std::span<const WallSample> samples, const WallSample& thinnest,
                      const WitnessPad& pad, const OutcomeOptions& options, const RunContext& run);

} // namespace leastwall
