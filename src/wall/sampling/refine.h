// Splits a surface into cells fine enough to see every thin place.
//
// Only edges decide, so neighbours always agree and the cells stay joined: an edge is split while
// it is longer than the coarse spacing, or longer than the fine spacing and the wall near it could
// be under the ceiling (distance_floor below). Cells whose wall is known all over from their
// corners (flat_wall.h) do not ask for the fine spacing.
#pragma once

#include "base/run_context.h"
#include "wall/sampling/wall_probe.h"

#include <array>
#include <cstdint>
#include <limits>
#include <unordered_map>

namespace leastwall {

struct RefineOptions {
  double ceiling_mm = 1;
  double fine_spacing_mm = 0.25;
  double coarse_spacing_mm = 4;
  /// Long narrow facets are first cut across this far apart (narrow_facets.h); 0: as the coarse
  /// one.
  double rung_spacing_mm = 0;
  /// About the most cells that the fine spacing may make: where all is thin it is widened, up to
  /// the coarse one, so that there are no more.
  std::size_t max_fine_cells = std::numeric_limits<std::size_t>::max();
  /// Leave cells as they are whose wall their corners tell (flat_wall.h).
  bool flat_cells = true;
  /// Flat cells may also be thicker inside than their corners say: where only thin walls matter.
  bool only_thinner = false;
  /// Splitting ends when there would be more cells than this; of the edges that ask, the longest
  /// are split first. And it ends when searches have taken this many steps (work_count.h).
  std::size_t max_cells = std::numeric_limits<std::size_t>::max();
  std::uint64_t max_steps = std::numeric_limits<std::uint64_t>::max();
};

struct RefinedMap {
  WallMap map;
  double fine_spacing_mm = 0; ///< as used: at least what was asked for
  /// Where splitting was ended by a bound: the longest edge that asked and was not split, mm;
  /// 0 where every wish was met.
  double unsplit_mm = 0;
  std::uint64_t steps = 0;            ///< that searches have taken
  std::vector<std::uint32_t> nearest; ///< per sample: facet of the other surface, a hint for later
};

/// Least distance that a triangle can have to another surface when its nearest corner has
/// `nearest_mm` and its longest edge squared is `longest2`.
///
/// The squared distance to any set is |x|^2 plus a minimum of linear functions, so d^2 - |x|^2 is
/// concave: at x = sum l_i c_i it is at least the mean of the corners' values, which gives
/// d(x)^2 >= sum l_i d_i^2 - sum_(i<j) l_i l_j |c_i - c_j|^2 >= min d_i^2 - L^2 / 3.
double distance_floor(double nearest_mm, double longest2);

/// Cells that a square as wide as the spacing is cut into: splitting leaves edges of about 0.7 of
/// the spacing (measured).
constexpr double kCellsOfSquare = 5;

/// What a spacing makes of cells: their area and, of those narrower than half of it, their length.
struct CellsToCut {
  double area_mm2 = 0, narrow_mm = 0;
  void add(const std::array<Vec3, 3>& cell, double spacing_mm);
  void add(const CellsToCut& other) {
    area_mm2 += other.area_mm2;
    narrow_mm += other.narrow_mm;
  }
  /// The least spacing that cuts them into no more than about `cells`, mm.
  double spacing_for(double cells) const;
};

/// What can be made ready before there is anything to measure against.
struct RefineStart {
  RefinedMap first;                 ///< the surface's own corners and cells, not measured yet
  std::vector<Vec3> normals;        ///< per corner, any length
  std::vector<std::uint32_t> order; ///< corners, neighbours in space one after the other
  std::unordered_map<std::uint64_t, std::uint32_t> middles; ///< of edges (narrow_facets.h)
};
/// Long narrow facets are cut across as the options say, which must be those of refine().
RefineStart refine_start(const TriMesh& surface, const RefineOptions& options,
                         const RunContext& run);

/// Covers the surface with samples measured by `probe`.
RefinedMap refine(RefineStart start, const WallProbe& probe, const RefineOptions& options,
                  const RunContext& run);

/// Goes on splitting a map, with a higher ceiling. Its samples keep their numbers.
RefinedMap refine_further(RefinedMap map, const WallProbe& probe, const RefineOptions& options,
                          const RunContext& run);

} // namespace leastwall
