#include "wall/sampling/measure_skin.h"

#include "base/work_count.h"
#include "field/distance_field.h"
#include "wall/sampling/map_sums.h"

#include <algorithm>
#include <utility>

namespace leastwall {
namespace {

/// A guide with more voxels takes longer than what it guides; its memory is counted on
/// (memory_need.cpp).
constexpr double kMaxVoxels = 3e6;

/// Is most of the skin so far from the pocket that a field pays? Asks a few hundred corners. Where
/// each takes long, as among slivers, the voxels would take as long, too.
bool mostly_beyond(const TriMesh& skin, const WallProbe& probe, double beyond_mm) {
  constexpr std::size_t kWorthIt = 100000, kAsked = 400;
  constexpr std::uint64_t kMostSteps = 250 * kAsked; // facets of even shape take 50 to 100 each
  if (skin.vertices.size() < kWorthIt)
    return false;
  std::size_t beyond = 0;
  const std::uint64_t before = steps_of_thread;
  const std::size_t step = skin.vertices.size() / kAsked;
  for (std::size_t i = 0; i < skin.vertices.size(); i += step)
    beyond += probe.there().nearest(skin.vertices[i]).distance > beyond_mm;
  return beyond > kAsked / 2 && steps_of_thread - before < kMostSteps;
}

} // namespace

MeasuredSkin measure_skin(const TriMesh& skin, RefineStart start, WallProbe& probe,
                          const MeasureOptions& options, const RefineOptions& spacing,
                          const RunContext& run) {
  const double beyond = std::max(4.0, 2.5 * options.ceiling_mm);
  FieldOptions field;
  field.voxel_mm = options.voxel_mm > 0 ? options.voxel_mm : beyond / 4;
  field.band_mm = beyond + 2 * field.voxel_mm;
  const TriMesh& pocket = probe.there().mesh();
  const bool pays = DistanceField::expected_voxels(pocket, field) <=
                        kMaxVoxels + 2 * static_cast<double>(skin.vertices.size()) &&
                    length(pocket.box().size()) < 1e5 * field.voxel_mm;
  if (options.voxel_mm > 0 || (pays && mostly_beyond(skin, probe, beyond))) {
    const DistanceField guide(
        probe.there(), [&probe](Vec3 p) { return probe.in_air(p); }, field, run);
    probe.set_guide(&guide, beyond);
    MeasuredSkin guided{refine(std::move(start), probe, spacing, run), beyond};
    probe.set_guide(nullptr, 0);
    if (thinnest_sample(guided.map.map, run) < beyond)
      return guided;
    // Nothing is thin: the least wall must then be found among walls that were only bounded.
    start = refine_start(skin, spacing, run);
  }
  return {refine(std::move(start), probe, spacing, run)};
}

} // namespace leastwall
