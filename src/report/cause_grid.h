// Which cause thins the wall most, pixel by pixel.
#pragma once

#include "budget/budget.h"
#include "report/cause_style.h"
#include "report/picture.h"
#include "report/rasterise_wall.h"

#include <string>
#include <vector>

namespace leastwall {

/// A cause as the map names it.
struct ShownCause {
  std::string name; ///< with its side
  double share = 0; ///< of the measured area, 0..1
};

struct CauseGrid {
  int width = 0, height = 0;
  std::vector<std::uint8_t> style; ///< row by row from the top; see cause_style.h
  std::vector<ShownCause> shown;   ///< by style, largest area first, at most kCauseStyles
  double other_share = 0;          ///< of all causes that share one look
  double none_share = 0;           ///< of places that no stated error thins
};

/// `frame` gives size and place, its values are not used. Throws RunError when the counts of the
/// samples do not match.
CauseGrid cause_grid(const WallMap& map, const Budget& budget, const WallGrid& frame);

/// For each style up to kOtherCauses the pixel deepest inside its areas, for a letter; absent where
/// the area is narrower than `least_px`.
std::vector<std::optional<PicturePoint>> letter_places(const CauseGrid& grid, int least_px);

} // namespace leastwall
