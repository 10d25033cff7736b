// The bed as a contour map for the shop: seen from above, x right, y up, true scale.
#pragma once

#include "bed/bed_map.h"
#include "bed/flatness.h"
#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <optional>
#include <string>

namespace leastwall {

/// How a piece lies on the bed, frame of the readings, mm.
struct PieceOnBed {
  Footprint side_a, side_b;
  Point2 touch_a, touch_b;
  FlipLine line = FlipLine::along_y;
  double line_at_mm = 0; ///< x of a line along y, y of a line along x
};

/// True when the set-up has readings enough to show a surface: three.
bool has_bed_map(const Setup& setup);

/// Where no board was stated the rectangle around all samples stands for it.
PieceOnBed piece_on_bed(const Setup& setup, const WallMap& skin);

/// Title and the line under it; `source`: where the readings come from, `piece`: its title or
/// empty.
std::string bed_map_title(const Flatness& flatness, const std::string& piece);
std::string bed_map_note(const Flatness& flatness, const std::string& source);

struct BedPictureOptions {
  int width_px = 1600; ///< 400..8000; the height follows from the bed
  bool inch = false;   ///< inches beside the millimetres
  std::string title;
  std::string note; ///< line under the title
};

/// The PNG's bytes; the same input gives the same bytes. Contours carry their heights; the colours
/// run dark to light from the lowest to the highest reading. Highest and lowest reading and the
/// contacts of the minimum zone are marked. Throws InputError for a width out of range.
std::string draw_bed_map(const BedMap& bed, const Flatness& flatness,
                         const std::optional<PieceOnBed>& piece, const BedPictureOptions& options);

} // namespace leastwall
