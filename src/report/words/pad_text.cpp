#include "report/words/pad_text.h"

#include <cmath>

namespace leastwall {

std::string pad_not_cut(const PadRow& pad) {
  switch (pad.use) {
  case PadUse::tells_nothing:
    return "A witness pad cut by these programs may be cut through as well and would tell nothing: "
           "change the set-up first.";
  case PadUse::no_room:
    return pad.reading_mm
               ? "The board has no room for a witness pad, so no one knows where the one that was "
                 "measured stood: no Z shift is worked out from its reading."
               : "The board has no room for a witness pad clear of the piece, the dowels and the "
                 "touch points: cut the thinnest place in waste wood and measure it there.";
  case PadUse::cut:
    break;
  }
  return {};
}

bool needs_no_shift(const PadRow& pad) {
  constexpr double kShown_mm = 0.0005;
  return pad.reading_mm && pad.shift_mm && std::abs(*pad.shift_mm) < kShown_mm;
}

} // namespace leastwall
