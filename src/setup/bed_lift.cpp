#include "setup/bed_lift.h"

#include "setup/cause_terms.h"
#include "setup/place.h"
#include "setup/readings_lookup.h"
#include "setup/rigid_seat.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

// All the lambda needs, by value: causes keep no reference to the set-up.
struct Lift {
  std::shared_ptr<const BedMap> bed;
  Setup places; // only flip and part origin are kept
  Side side = Side::a;
  bool pressed = true;
  double reference_pressed = 0, reference_rigid = 0;
  std::optional<SeatPlane> seat;

  // Wall change at p.
  double operator()(const CausePoint& p) const {
    const Point2 place = bed_place(places, side, {p.at.x, p.at.y});
    const double v = vertical(p);
    double change = 0;
    bool any = false;
    if (pressed) {
      change = v * (reference_pressed - height_or_highest(*bed, place));
      any = true;
    }
    if (seat) {
      const double rigid = v * (reference_rigid - seat->at(place));
      change = any ? std::min(change, rigid) : rigid;
    }
    return change;
  }
};

void note_what_is_not_read(const BedMap& bed, const Footprint& f,
                           std::vector<std::string>& assumptions) {
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
                  std::vector<std::string>& assumptions) {
  if (!setup.bed.readings)
    return;
  const BedMap& bed = *setup.bed.readings;
  const Footprint on_bed = footprint_on_bed(setup, side);
  note_what_is_not_read(bed, on_bed, assumptions);

  Lift lift;
  lift.bed = setup.bed.readings;
  lift.places.flip = setup.flip;
  lift.places.bed.part_origin_mm = setup.bed.part_origin_mm;
  lift.side = side;
  const Point2 touch = bed_place(setup, side, touch_point_of(setup, side, assumptions));
  lift.reference_pressed = lift.reference_rigid = height_or_lowest(bed, touch);
  if (setup.bed.seating != Seating::pressed) {
    lift.seat = rigid_seat(bed, on_bed);
    if (!lift.seat)
      note(assumptions, "the readings do not surround the middle of the board: it is taken as "
                        "pressed flat onto the bed");
    else if (side_of(setup, side).zero == ZeroFrom::top)
      lift.reference_rigid = lift.seat->at(touch);
  }
  lift.pressed = setup.bed.seating != Seating::rigid || !lift.seat;
  if (setup.bed.seating == Seating::unknown)
    note(assumptions, "nothing says whether the board is pressed flat or stiff on the bed: both "
                      "are computed, the thinner wall counts");

  Cause cause;
  cause.key = "bed";
  cause.name = "bed under " + side_words(side);
  cause.side = side;
  cause.distribution = Distribution::shift;
  cause.size = 1;
  cause.unit.clear();
  cause.sensitivity = lift;
  causes.push_back(cause);
}

} // namespace leastwall
