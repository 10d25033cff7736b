#include "causes/bed/bed_lift.h"

#include "base/assumption.h"
#include "bed/readings_lookup.h"
#include "bed/seat/resting_tilts.h"
#include "causes/model/cause_terms.h"
#include "setup/place.h"

#include <algorithm>
#include <fmt/format.h>
#include <limits>

namespace leastwall {
namespace {

// Where a point of the part lies on the bed; all that needs to be kept of the set-up.
struct OnBed {
  Setup places; // only flip and part origin are kept
  Side side = Side::a;
  OnBed(const Setup& setup, Side of) : side(of) {
    places.flip = setup.flip;
    places.bed.part_origin_mm = setup.bed.part_origin_mm;
  }
  Point2 operator()(const WallSample& p) const { return bed_place(places, side, {p.at.x, p.at.y}); }
};

// Wall change of a board pressed onto the bed; reference: height of the bed at the touch point.
Sensitivity when_pressed(std::shared_ptr<const BedMap> bed, const OnBed& on_bed, double reference) {
  return [=](const WallSample& p) {
    return vertical(p) * (reference - height_or_highest(*bed, on_bed(p)));
  };
}

// Wall change of a stiff board on this plane.
Sensitivity when_resting(const SeatPlane& plane, const OnBed& on_bed, double reference) {
  return [=](const WallSample& p) { return vertical(p) * (reference - plane.at(on_bed(p))); };
}

Sensitivity thinnest_of(const std::vector<Sensitivity>& ways) {
  if (ways.size() == 1)
    return ways[0];
  return [ways](const WallSample& p) {
    double change = std::numeric_limits<double>::infinity();
    for (const Sensitivity& way : ways)
      change = std::min(change, way(p));
    return change;
  };
}

void note_what_is_not_read(const BedMap& bed, const Footprint& f,
                           std::vector<Assumption>& assumptions) {
  for (const double x : {f.low.x, f.high.x})
    for (const double y : {f.low.y, f.high.y})
      if (!bed.height_mm(x, y)) {
        note(assumptions, fmt::format("the bed was not read under the whole board: elsewhere it "
                                      "stands as high as the highest reading, {:.3f} mm",
                                      bed.highest().z));
        return;
      }
}

} // namespace

void add_bed_lift(const Setup& setup, Side side, std::vector<Cause>& causes,
                  std::vector<Assumption>& assumptions) {
  if (!setup.bed.readings)
    return;
  const BedMap& bed = *setup.bed.readings;
  const Footprint board = footprint_on_bed(setup, side);
  note_what_is_not_read(bed, board, assumptions);

  const OnBed place(setup, side);
  const Point2 touch = bed_place(setup, side, touch_point_of(setup, side, assumptions));
  const double at_touch = height_or_lowest(bed, touch);
  std::vector<Sensitivity> ways;
  if (setup.bed.seating != Seating::pressed) {
    const bool top = side_of(setup, side).zero == ZeroFrom::top;
    if (const std::optional<RestingTilts> tilts = resting_tilts(bed, board))
      for (const SeatPlane& plane : tilts->planes)
        ways.push_back(when_resting(plane, place, top ? plane.at(touch) : at_touch));
    else
      note(assumptions, "the readings do not surround the middle of the board: it is taken as "
                        "pressed flat onto the bed");
  }
  if (setup.bed.seating != Seating::rigid || ways.empty())
    ways.push_back(when_pressed(setup.bed.readings, place, at_touch));
  if (setup.bed.seating == Seating::unknown)
    note(assumptions, "nothing says whether the board is pressed flat or stiff on the bed: both "
                      "are computed, the thinner wall counts");

  Cause cause;
  cause.id = {CauseKind::bed_seat, side};
  cause.distribution = Distribution::shift;
  cause.size = 1;
  cause.unit.clear();
  cause.sensitivity = thinnest_of(ways);
  if (ways.size() > 1)
    cause.ways = std::move(ways);
  causes.push_back(cause);
}

} // namespace leastwall
