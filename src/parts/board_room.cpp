#include "parts/board_room.h"

#include "parts/outline_gap.h"
#include "setup/place.h"
#include "spatial/closest_surface.h"

#include <algorithm>
#include <memory>

namespace leastwall {
namespace {

Footprint rectangle(const Box& box) {
  return {{box.low.x, box.low.y}, {box.high.x, box.high.y}};
}

/// Least room between a rectangle and the one that it should lie in; under 0: so far beyond.
double room_in(const Footprint& inner, const Footprint& outer) {
  return std::min({inner.low.x - outer.low.x, outer.high.x - inner.high.x,
                   inner.low.y - outer.low.y, outer.high.y - inner.high.y});
}

/// How far a rectangle of the part's frame reaches beyond the bed on either side.
double off_bed(Setup setup, const Footprint& what) {
  setup.board.footprint = what;
  double beyond = 0;
  for (const Side side : {Side::a, Side::b})
    beyond = std::max(beyond, -room_in(footprint_on_bed(setup, side), *setup.bed.extent));
  return beyond;
}

Point2 middle_of_board(std::span<const PartOutline> parts, const Setup& setup) {
  if (setup.board.footprint)
    return setup.board.footprint->middle();
  Box all;
  for (const PartOutline& part : parts)
    all.add(part.box);
  return rectangle(all).middle();
}

void add_gaps_between(std::span<const PartOutline> parts, const Setup& setup, double radius_mm,
                      BoardRow& out) {
  std::vector<TriMesh> flat;
  for (const PartOutline& part : parts)
    flat.push_back(seen_from_above(part.skin, part.on_board));
  std::vector<std::unique_ptr<ClosestSurface>> near_to; // none where nothing is seen
  for (const TriMesh& mesh : flat)
    near_to.push_back(mesh.triangles.empty() ? nullptr : std::make_unique<ClosestSurface>(mesh));
  for (std::size_t k = 0; k < parts.size(); ++k)
    for (std::size_t i = 0; i < k; ++i) {
      if (!near_to[i] || parts[i].board != parts[k].board ||
          parts[i].box.plan_gap(parts[k].box) >= kFarGap_mm)
        continue;
      const double gap = flat_gap(*near_to[i], flat[k], kFarGap_mm);
      if (gap < kFarGap_mm)
        out.gaps.push_back(
            {parts[i].name, BoardRow::GapTo::part, parts[k].name, gap, false, parts[i].board});
    }
  if (setup.flip.located_by != LocatedBy::dowels)
    return;
  const std::vector<Point2> dowels = dowel_places(setup.flip, middle_of_board(parts, setup));
  for (std::size_t i = 0; i < parts.size() && !dowels.empty(); ++i) {
    if (!near_to[i])
      continue;
    double least = kFarGap_mm;
    for (const Point2 at : dowels)
      least = std::min(least, near_to[i]->nearest({at.x, at.y, 0}).distance);
    if (least < kFarGap_mm)
      out.gaps.push_back({parts[i].name,
                          BoardRow::GapTo::flip_dowel,
                          {},
                          least - radius_mm,
                          radius_mm == 0,
                          parts[i].board});
  }
}

} // namespace

BoardRow room_on_board(std::span<const PartOutline> parts, const Setup& setup,
                       double flip_hole_radius_mm) {
  BoardRow out;
  const std::optional<Footprint>& board = setup.board.footprint;
  if (board) {
    out.fits = true;
    for (const PartOutline& part : parts) {
      const double room = room_in(rectangle(part.box), *board);
      out.fits = *out.fits && room >= -kPlaceRounding_mm;
      out.gaps.push_back({part.name, BoardRow::GapTo::board_edge, {}, room, false, part.board});
    }
  }
  if (setup.bed.extent) {
    if (board)
      out.board_off_bed_mm = off_bed(setup, *board);
    out.parts_off_bed_mm = 0;
    for (const PartOutline& part : parts)
      out.parts_off_bed_mm = std::max(*out.parts_off_bed_mm, off_bed(setup, rectangle(part.box)));
  }
  if (parts.size() > 1)
    add_gaps_between(parts, setup, flip_hole_radius_mm, out);
  return out;
}

} // namespace leastwall
