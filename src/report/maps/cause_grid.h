// Which cause thins the wall most, pixel by pixel.
#pragma once

#include "budget/budget.h"
#include "report/draw/picture.h"
#include "report/draw/rasterise_wall.h"
#include "report/maps/cause_style.h"

#include <string>
#include <vector>

namespace leastwall {

/// A cause as the map names it.
struct ShownCause {
  std::string name; ///< with its side
  double share = 0; ///< of the measured area, 0..1
};

/// Who gets which look: by the area of skin that a cause thins most.
struct CauseRanking {
  std::vector<std::size_t> style_of; ///< by cause, then one for "none"
  std::vector<ShownCause> shown;     ///< by style, largest area first, at most kCauseStyles
  double other_share = 0;            ///< of all causes that share one look
  double none_share = 0;             ///< of places that no stated error thins

  /// Lines that a legend needs.
  int entries() const {
    return static_cast<int>(shown.size()) + (other_share > 0 ? 1 : 0) + (none_share > 0 ? 1 : 0);
  }
};

/// Throws RunError when the counts of the samples do not match.
CauseRanking rank_causes(const WallMap& map, const Budget& budget);

struct CauseGrid {
  int width = 0, height = 0;
  std::vector<std::uint8_t> style; ///< row by row from the top; see cause_style.h
};

/// `frame` gives size and place, its values are not used.
CauseGrid cause_grid(const WallMap& map, const Budget& budget, const CauseRanking& ranking,
                     const WallGrid& frame);

/// For each style up to kOtherCauses the pixel deepest inside its areas, for a letter; absent where
/// the area is narrower than `least_px`.
std::vector<std::optional<PicturePoint>> letter_places(const CauseGrid& grid, int least_px);

} // namespace leastwall
