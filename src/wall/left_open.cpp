#include "wall/left_open.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {

std::vector<Notice> left_open_findings(const WallMeasurement& wall, const JudgedPiece& piece) {
  const WallMeasurement::LeftOpen& open = wall.left_open;
  const double floor = std::min(wall.least.wall_mm, open.least_floor_mm.value_or(1e300));
  // The least wall is that of the surfaces themselves, however widely they are sampled; what errors
  // take is a guide (reach.h), so half as much again is kept in hand.
  constexpr double kInHand = 1.5;
  const Severity severity = piece.fails ? Severity::doubt
                            : floor - kInHand * piece.thinner_mm >= piece.limit_mm
                                ? Severity::warning
                                : Severity::unproven;
  std::vector<Notice> notices;
  if (open.least_floor_mm)
    notices.push_back(
        {"least-wall-left-open",
         fmt::format("The search for the least wall was ended by its bound: it lies between {:.3f} "
                     "and {:.3f} mm. Use coarser meshes, or check unit and scale of both.",
                     *open.least_floor_mm, wall.least.wall_mm),
         severity});
  if (open.unsplit_mm > 0)
    notices.push_back(
        {"measured-coarsely",
         fmt::format(
             "The walls were measured at places up to {:.1f} mm apart instead of {:.2f} mm: "
             "the meshes ask for more places than there is room for. Use facets that are "
             "less long and narrow, or check unit and scale of both meshes.",
             open.unsplit_mm, wall.fine_spacing_mm),
         severity});
  if (open.depth_most_mm)
    notices.push_back(
        {"depth-lower-bound",
         fmt::format("The cut-through is at least this deep, and no deeper than {:.3f} mm: the "
                     "search for its deepest point was ended by its bound. Check unit and scale of "
                     "both meshes.",
                     *open.depth_most_mm),
         Severity::warning});
  return notices;
}

} // namespace leastwall
