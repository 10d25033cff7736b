#include "budget/advice/dowel_room.h"

#include "budget/advice/plan_room.h"
#include "setup/place.h"

#include <algorithm>
#include <fmt/format.h>
#include <string>

namespace leastwall {
namespace {

/// "x 1.0 y 2.0", further ones joined by "and".
void add_place(std::string& places, Point2 p) {
  places += fmt::format("{}x {:.1f} y {:.1f}", places.empty() ? "" : " and ", p.x, p.y);
}

} // namespace

std::vector<Notice> dowel_notices(const Setup& setup, Point2 middle_of_board,
                                  std::span<const WallSample> samples, std::span<const Tri> cells) {
  std::vector<Notice> out;
  if (setup.flip.located_by != LocatedBy::dowels)
    return out;
  std::string in, near;
  double least = kDowelRoom_mm;
  for (const Point2 p : dowel_places(setup.flip, middle_of_board)) {
    const double distance = plan_distance(samples, cells, p);
    if (distance <= 0)
      add_place(in, p);
    else if (distance < kDowelRoom_mm) {
      add_place(near, p);
      least = std::min(least, distance);
    }
  }
  if (!in.empty())
    out.push_back({"dowel-in-piece",
                   fmt::format("A dowel stands in the piece, at {}: the cutter would run into it "
                               "and nothing would hold the board. Set the dowels farther apart, or "
                               "state where they are (middle and spacing in [flip.dowels]).",
                               in),
                   Severity::doubt});
  if (!near.empty())
    out.push_back({"dowel-near-piece",
                   fmt::format("A dowel stands close to the piece, {:.1f} mm from its middle, at "
                               "{}: make sure that pin and cutter both have room.",
                               least, near)});
  return out;
}

} // namespace leastwall
