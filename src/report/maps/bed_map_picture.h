// The bed as a contour map for the shop: seen from above, x right, y up, true scale.
#pragma once

#include "bed/bed_map.h"
#include "bed/flatness.h"
#include "report/piece_on_bed.h"

#include <optional>
#include <string>

namespace leastwall {

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
