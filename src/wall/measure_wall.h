// The design wall everywhere, and the true least distance between pocket and skin.
#pragma once

#include "base/assumption.h"
#include "base/notice.h"
#include "base/run_context.h"
#include "mesh/mesh.h"
#include "spatial/mesh_section.h"
#include "wall/sampling/measure_options.h"
#include "wall/sampling/wall_map.h"
#include "wall/surface/piece_facts.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

struct WallMeasurement {
  /// Wall at the skin: nearest pocket point; behind these samples the pairs that only the pocket
  /// sees (WallMap::first_pair).
  WallMap skin;
  WallMap pocket;          ///< wall at the pocket: nearest skin point; empty when not asked for
  WallPlace least;         ///< the least wall of the piece, exact within 0.001 mm
  bool intersects = false; ///< the surfaces touch or cross
  /// Pocket floor minus skin height along z at a point of the skin; absent where the column misses.
  std::function<std::optional<double>(Vec3)> straight_down_mm;
  /// What an upright plane shows of the pocket's mesh.
  std::function<SectionPieces(const SectionPlane&)> pocket_section;
  double top_z_mm = 0;
  double skin_area_mm2 = 0;     ///< machined skin
  double left_out_area_mm2 = 0; ///< lids and flats on the pocket face, both meshes
  double fine_spacing_mm = 0;
  /// What was not measured finely has a wall of at least this, the ceiling in the end, or one that
  /// its corners tell (flat_wall.h), mm.
  double measured_to_mm = 0;
  PieceFacts facts; ///< how pocket and skin lie in one another
  /// What rim_depth_mm left out.
  struct Rim {
    double area_mm2 = 0, least_wall_mm = 0;
  };
  std::optional<Rim> rim;
  /// What was left open because a bound on the work was reached (measure_bounds.h).
  struct LeftOpen {
    /// Cells that should have been split have edges up to this, mm; 0: all were.
    double unsplit_mm = 0;
    /// The least wall may be less than `least`, but not less than this, mm.
    std::optional<double> least_floor_mm;
    /// The cut-through may be deeper than `least` says, but not deeper than this, mm > 0.
    std::optional<double> depth_most_mm;
    bool any() const { return unsplit_mm > 0 || least_floor_mm || depth_most_mm; }
  } left_open;
  /// What was done, counted: the same on any number of threads.
  struct Work {
    std::uint64_t cells = 0;   ///< in the largest map
    std::uint64_t divided = 0; ///< cells split to find how deep a cut-through is
    std::uint64_t pairs = 0;   ///< cells decided triangle against triangle
    std::uint64_t steps = 0;   ///< of searches (work_count.h)
  } work;
  std::size_t ambiguous_points = 0; ///< points whose side could not be told clearly
  std::vector<Assumption> assumptions;
  std::vector<Notice> notices;
};

/// Measures both surfaces against each other. Meshes are in mm in the same frame, welded; facet
/// orientation does not matter. Throws InputError when nothing is left to measure.
WallMeasurement measure_wall(TriMesh pocket, TriMesh skin, const MeasureOptions& options,
                             const RunContext& run);

} // namespace leastwall
