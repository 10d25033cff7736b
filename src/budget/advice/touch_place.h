// Whether the datum of a side can be touched at a place at all.
#pragma once

#include "base/notice.h"
#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace leastwall {

enum class TouchPlace {
  good,
  under_board, ///< zero on the bed, and the board lies on that place
  off_board,   ///< zero on top, and the board does not reach that place
  on_dowel,    ///< a dowel or its hole is there
  cut_away     ///< zero on top, touched again after roughing, and the part is cut there
};

/// From the middle of a dowel to the middle of a bit that touches clear of it, mm: half a usual pin
/// and half a usual bit, common practice.
inline constexpr double kTouchFromDowel_mm = 7;

/// `at`: a point of the part, model x, y. Where no footprint of the board is stated nothing is off
/// it, and the board is taken to lie where the samples are; dowels of which only the spacing is
/// stated are then looked for where one part alone puts them, and not at all among several.
/// `of_parts`: how many samples each part has, one after the other, where there are several.
TouchPlace touch_place(const Setup& setup, Side side, Point2 at,
                       std::span<const WallSample> samples,
                       std::span<const std::size_t> of_parts = {});

/// Why no one can touch there, one sentence without its full stop; empty for a good place.
std::string touch_trouble(TouchPlace place);

/// `samples`, `of_parts`: as above. One warning for each side whose stated touch point cannot
/// serve. Codes touch-under-board, touch-off-board, touch-on-dowel, touch-cut-away; each text
/// begins with "Side A: " or "Side B: ".
std::vector<Notice> touch_notices(const Setup& setup, std::span<const WallSample> samples,
                                  std::span<const std::size_t> of_parts = {});

} // namespace leastwall
