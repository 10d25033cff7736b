// Where a point of the part lies on the bed, and against the flip line.
#pragma once

#include "base/assumption.h"
#include "setup/setup.h"
#include "space/box.h"

#include <string>
#include <vector>

namespace leastwall {

/// Bed place of a point of the part: shifted by the part's origin, and for side B first turned
/// about the flip line (x = f: x becomes f - (x - f)). Bed frame, mm.
Point2 bed_place(const Setup& setup, Side side, Point2 part);

/// Signed distance of a point of the part from the flip line, mm: x - f for a line along y.
double across_line(const Flip& flip, Point2 part);

/// Coordinate along the flip line, mm: y for a line along y.
double along_line(const Flip& flip, Point2 part);

/// The point of the part with these two coordinates.
Point2 on_line(const Flip& flip, double across_mm, double along_mm);

/// A point of the part in the program coordinates of a side: for side B turned about the flip line.
Point2 side_place(const Flip& flip, Side side, Point2 part);

/// The middles of the two dowels, model x, y; none when the flip is not on dowels. Where no one
/// stated their middle it lies on the flip line beside `middle_of_board`.
std::vector<Point2> dowel_places(const Flip& flip, Point2 middle_of_board);

/// From `at` to the middle of the nearer one, mm; infinity when there are none.
double dowel_distance(const Flip& flip, Point2 middle_of_board, Point2 at);

/// The set-up with the rectangle of `part` as the board's footprint where none is stated.
Setup with_footprint_of(Setup setup, const Box& part);

/// Footprint of the board, model x, y. Throws InputError when it is not stated or has no area.
Footprint footprint_of(const Setup& setup);

/// The same rectangle as the board lies on side A or side B, bed frame.
Footprint footprint_on_bed(const Setup& setup, Side side);

/// Where the datum of a side is touched; the middle of the footprint when not stated, and then
/// `assumptions` says so.
Point2 touch_point_of(const Setup& setup, Side side, std::vector<Assumption>& assumptions);

/// The same for any set-up on that side.
Point2 touch_point_of(const Setup& setup, const SideSetup& how, Side side,
                      std::vector<Assumption>& assumptions);

} // namespace leastwall
