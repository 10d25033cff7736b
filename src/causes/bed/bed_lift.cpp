#include "causes/bed/bed_lift.h"

#include "base/assumption.h"
#include "bed/readings_lookup.h"
#include "bed/seat/resting_tilts.h"
#include "causes/model/cause_terms.h"
#include "setup/place.h"

#include <algorithm>
#include <cmath>
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

/// One way in which the board may lie: what it does to the wall, and no more than that.
struct Way {
  Sensitivity change;
  ChangeBound bound;
};

// Wall change of a board pressed onto the bed; reference: height of the bed at the touch point.
Way when_pressed(std::shared_ptr<const BedMap> bed, const OnBed& on_bed, double reference,
                 double height) {
  const double most = std::abs(height) * std::max(std::abs(reference - bed->lowest().z),
                                                  std::abs(reference - bed->highest().z));
  return {[=](const WallSample& p) {
            return height * vertical(p) * (reference - height_or_highest(*bed, on_bed(p)));
          },
          at_most(most)};
}

// Wall change of a stiff board on this plane.
Way when_resting(const SeatPlane& plane, const OnBed& on_bed, double reference, double height) {
  return {
      [=](const WallSample& p) { return height * vertical(p) * (reference - plane.at(on_bed(p))); },
      [=](const Places& places) {
        double most = 0;
        for (const double x : {places.at.low.x, places.at.high.x})
          for (const double y : {places.at.low.y, places.at.high.y})
            most = std::max(most, std::abs(reference - plane.at(on_bed({{x, y, 0}, {}, 0}))));
        return std::abs(height) * most;
      }};
}

std::vector<Sensitivity> changes_of(const std::vector<Way>& ways) {
  std::vector<Sensitivity> changes;
  for (const Way& way : ways)
    changes.push_back(way.change);
  return changes;
}

ChangeBound bound_of(const std::vector<Way>& ways) {
  return [ways](const Places& places) {
    double most = 0;
    for (const Way& way : ways)
      most = std::max(most, way.bound(places));
    return most;
  };
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

/// How the board may lie for one cut, with what that does to the wall.
struct Lying {
  std::vector<Way> stiff;
  std::optional<Way> pressed;
};

Lying lying_of(const Setup& setup, const CutView& cut, std::vector<Assumption>& assumptions) {
  const BedMap& bed = *setup.bed.readings;
  const Side side = cut.id.side;
  const Footprint board = footprint_on_bed(setup, side);
  note_what_is_not_read(bed, board, assumptions);

  const OnBed place(setup, side);
  const Point2 touch = bed_place(setup, side, touch_point_of(setup, cut.how, side, assumptions));
  const double at_touch = height_or_lowest(bed, touch);
  Lying lying;
  if (setup.bed.seating != Seating::pressed) {
    const bool top = cut.how.zero == ZeroFrom::top;
    if (const std::optional<RestingTilts> tilts = resting_tilts(bed, board))
      for (const SeatPlane& plane : tilts->planes)
        lying.stiff.push_back(
            when_resting(plane, place, top ? plane.at(touch) : at_touch, cut.height));
    else
      note(assumptions, "the readings do not surround the middle of the board: it is taken as "
                        "pressed flat onto the bed");
  }
  if (setup.bed.seating != Seating::rigid || lying.stiff.empty())
    lying.pressed = when_pressed(setup.bed.readings, place, at_touch, cut.height);
  if (setup.bed.seating == Seating::unknown)
    note(assumptions, "nothing says whether the board is pressed flat or stiff on the bed: both "
                      "are computed, the thinner wall counts");
  return lying;
}

Way both(const Way& first, const Way& second) {
  return {[a = first.change, b = second.change](const WallSample& p) { return a(p) + b(p); },
          [a = first.bound, b = second.bound](const Places& at) { return a(at) + b(at); }};
}

std::vector<Way> ways_of(const Lying& lying) {
  std::vector<Way> ways = lying.stiff;
  if (lying.pressed)
    ways.push_back(*lying.pressed);
  return ways;
}

/// Both cuts on the same bed, the same face up.
std::vector<Way> ways_of(const Lying& inner, const Lying& outer) {
  std::vector<Way> ways;
  for (const Way& i : inner.stiff)
    for (const Way& o : outer.stiff)
      ways.push_back(both(i, o));
  if (inner.pressed && outer.pressed)
    ways.push_back(both(*inner.pressed, *outer.pressed));
  return ways;
}

} // namespace

void add_bed_lift(const Setup& setup, const CutView& cut, std::vector<Cause>& causes,
                  std::vector<Assumption>& assumptions) {
  if (!setup.bed.readings || (same_side(setup) && cut.outer))
    return;
  const Lying lying = lying_of(setup, cut, assumptions);
  if (same_side(setup) && same_datum(setup) && lying.stiff.size() <= 1)
    return;
  const std::vector<Way> found =
      same_side(setup) ? ways_of(lying, lying_of(setup, cuts_of(setup)[1], assumptions))
                       : ways_of(lying);
  Cause cause;
  cause.id = id_of(CauseKind::bed_seat, cut);
  cause.distribution = Distribution::shift;
  cause.size = 1;
  cause.unit.clear();
  std::vector<Sensitivity> ways = changes_of(found);
  cause.sensitivity = thinnest_of(ways);
  cause.bound = bound_of(found);
  if (ways.size() > 1)
    cause.ways = std::move(ways);
  causes.push_back(cause);
}

} // namespace leastwall
