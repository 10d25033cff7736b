// The minimum zone of points: the two parallel planes closest together with every point between.
//
// ISO 1101 flatness and ISO 12781-1 reference plane MZPL (read in secondary copies). The vertical
// width max - min of z - a x - b y is made least over the slopes a, b; the normal width is that
// divided by sqrt(1 + a^2 + b^2), which for the slopes of a bed (a few mm per m) is the minimum of
// the normal width as well, to a part in a million.
//
// It is a linear programme. Its dual finds convex combinations of upper and of lower contact
// points that meet in plan with the greatest height between them: any such pair proves that no
// planes lie closer (3-1, 1-3: one contact inside the triangle of three; 2-2: crossing segments).
#pragma once

#include "space/vec3.h"

#include <span>
#include <string>
#include <vector>

namespace leastwall {

/// A point that touches one of the two planes.
struct ZoneContact {
  Vec3 at;           ///< the reading, mm
  bool upper = true; ///< touches the upper plane
  /// Share in the convex combination of its side, 0..1; the shares of a side add to 1. 0 where a
  /// point touches but is not needed.
  double weight = 0;
};

struct MinimumZone {
  double slope_x = 0, slope_y = 0;   ///< mm per mm
  double upper_mm = 0, lower_mm = 0; ///< the planes are z = slope_x x + slope_y y + this
  double vertical_mm = 0;            ///< upper_mm - lower_mm
  double normal_mm = 0;              ///< width at right angles to the planes: the flatness
  std::vector<ZoneContact> contacts; ///< upper ones first; four unless the points lie on a line

  /// Upper contacts, dash, lower contacts: "3-1", "1-3", "2-2" (on a line "2-1", "1-2").
  std::string type() const;
};

/// The minimum zone of `points`, exact to about 1e-12 of their height range. Points on one line in
/// plan get slopes along that line only. Throws InputError when there are none.
MinimumZone minimum_zone(std::span<const Vec3> points);

/// True when the contacts prove that `zone` is least for `points`: every point lies between the
/// planes, every contact on its plane, and the weighted upper and lower contacts meet in plan;
/// heights to `tolerance_mm`, places to `tolerance_mm` of the plan's extent per mm.
bool contacts_prove(const MinimumZone& zone, std::span<const Vec3> points,
                    double tolerance_mm = 1e-9);

} // namespace leastwall
