// How a stiff board lies on an uneven bed: on its high points, under its own weight.
#pragma once

#include "bed/bed_map.h"
#include "bed/seat/rigid_seat.h"

#include <optional>
#include <vector>

namespace leastwall {

/// How well the middle of the board is known as its centre of weight, as a part of its diagonal
/// either way along x and y: wood is no more even than this, nor is a board laid down better.
inline constexpr double kCentreKnown = 1e-3;

/// How a stiff board may lie.
struct RestingTilts {
  /// The planes of its lower face between which it can tip: any resting tilt is a mean of these.
  std::vector<SeatPlane> planes;
  /// Where it rocks (tips by 0.001 mm or more at a corner): the two places farthest apart, or the
  /// one, that it touches however it tips (bed frame), or none where it rolls over several.
  bool rocks = false;
  std::vector<Vec3> over;
};

/// All planes of the lower face of a stiff flat board over `on_bed` (bed frame): nowhere below the
/// bed, and with its centre of weight as low as it can be. The board is taken as solid: an opening
/// in the lower face (the pocket, on side B) still rests on what stands under it.
///
/// The centre of weight c is the middle of the rectangle, known within kCentreKnown. The lowest
/// height of a plane over c, as a function of c, is the upper hull of the contact places: concave,
/// a plane over each facet. With c inside one facet there is one resting plane. With c on an edge
/// (two places on either side of the middle: the bed is dished or twisted) every plane through the
/// edge between those of its two facets rests as well; with c on a corner (a high spot under the
/// middle) every mean of the facets around it. So the extreme tilts are the planes of the facets
/// that reach into the square in which c is known to lie; they are found exactly, slivers and all:
/// the least of the planes found so far is compared with the hull at every corner of its pieces,
/// and a concave function that equals a linear one at the corners of a piece equals it inside.
/// A wall changes linearly with the tilt, so the thinnest wall of all is at an extreme one.
/// At most 64 planes are looked for; more would need readings closer than a hundredth of the
/// square. Absent when the readings do not surround the middle.
std::optional<RestingTilts> resting_tilts(const BedMap& bed, const Footprint& on_bed);

} // namespace leastwall
