// The witness pad as reports show it.
#pragma once

#include "budget/effects/verdict.h"

#include <optional>

namespace leastwall {

enum class PadUse {
  cut,           ///< it can be cut and measured
  tells_nothing, ///< these programs may cut through it as well
  no_room        ///< nowhere on the board: its place and its numbers hold nowhere
};

/// A pad cut in the waste by both programs: what it should read and what to do with a reading.
struct PadRow {
  double x_mm = 0, y_mm = 0;      ///< where, model space
  double size_mm = 0;             ///< the pad is a square of this width
  double design_mm = 0;           ///< thickness as drawn
  double floor_z_mm = 0;          ///< of its pocket floor as drawn, model z
  double skin_z_mm = 0;           ///< of its skin as drawn, model z
  double expected_mm = 0;         ///< what it should read
  double low_mm = 0, high_mm = 0; ///< a reading outside says that something else is wrong
  PadUse use = PadUse::cut;       ///< any other: no one should cut it there
  std::optional<double> reading_mm;
  std::optional<double> shift_mm;  ///< Z shift before side B is finished; positive raises the bit
  Verdict verdict = Verdict::safe; ///< with the shift typed in
};

} // namespace leastwall
