#include "setup/reading_places.h"

#include "bed/bed_map.h"
#include "setup/place.h"

#include <array>
#include <span>

namespace leastwall {
namespace {

/// The part's point that lies on this place of the bed: bed_place the other way round.
Point2 part_place(const Setup& setup, Side side, Point2 bed) {
  const Point2 part{bed.x - setup.bed.part_origin_mm.x, bed.y - setup.bed.part_origin_mm.y};
  return side == Side::a
             ? part
             : on_line(setup.flip, -across_line(setup.flip, part), along_line(setup.flip, part));
}

template <class Chosen> std::vector<Point2> places(const Setup& setup, const Chosen& chosen) {
  std::vector<Point2> out;
  if (setup.bed.readings)
    for (const Side side : {Side::a, Side::b})
      for (const Vec3& p : chosen(*setup.bed.readings))
        out.push_back(part_place(setup, side, {p.x, p.y}));
  if (setup.board.thickness_readings)
    for (const Vec3& p : chosen(*setup.board.thickness_readings))
      out.push_back({p.x, p.y});
  return out;
}

} // namespace

std::vector<Point2> reading_places(const Setup& setup) {
  return places(setup, [](const BedMap& map) { return map.points(); });
}

std::vector<Point2> extreme_reading_places(const Setup& setup) {
  return places(setup, [](const BedMap& map) { return std::array{map.highest(), map.lowest()}; });
}

} // namespace leastwall
