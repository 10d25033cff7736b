// The module leastwall-field.so: exact distances on an OpenVDB tree.
#include "field/module/openvdb_grid.h"

#include "base/parallel.h"
#include "field/touched_voxels.h"

#include <algorithm>
#include <cmath>
#include <openvdb/tools/Morphology.h>
#include <vector>

namespace leastwall {

OpenvdbGrid::OpenvdbGrid(const VoxelGridInput& input, const RunContext& run)
    : voxel_(input.voxel_mm), outside_(input.band_voxels * input.voxel_mm), origin_(input.origin) {
  mark(input, run);
  fill(input, run);
}

double OpenvdbGrid::at_least(Vec3 p) const {
  const Vec3 q = (p - origin_) / voxel_;
  if (std::abs(q.x) > 1e9 || std::abs(q.y) > 1e9 || std::abs(q.z) > 1e9)
    return outside_;
  const openvdb::Coord c = voxel_of(p);
  float value = 0;
  if (!tree_.probeValue(c, value))
    return outside_;
  // The stored value is rounded to single precision.
  const double distance_there = std::abs(static_cast<double>(value)) * (1 - 1e-7);
  return std::max(0.0, distance_there - distance(p, centre(c)));
}

std::optional<double> OpenvdbGrid::at_voxel(Vec3 p) const {
  float value = 0;
  if (!tree_.probeValue(voxel_of(p), value))
    return std::nullopt;
  return static_cast<double>(value);
}

openvdb::Coord OpenvdbGrid::voxel_of(Vec3 p) const {
  const Vec3 q = (p - origin_) / voxel_;
  return {static_cast<int>(std::lround(q.x)), static_cast<int>(std::lround(q.y)),
          static_cast<int>(std::lround(q.z))};
}

Vec3 OpenvdbGrid::centre(const openvdb::Coord& c) const {
  return origin_ +
         Vec3{static_cast<double>(c.x()), static_cast<double>(c.y()), static_cast<double>(c.z())} *
             voxel_;
}

void OpenvdbGrid::mark(const VoxelGridInput& input, const RunContext& run) {
  openvdb::MaskTree mask;
  openvdb::tree::ValueAccessor<openvdb::MaskTree> accessor(mask);
  const auto switch_on = [&](int x, int y, int z) { accessor.setValueOn(openvdb::Coord(x, y, z)); };
  for (std::size_t i = 0; i < input.triangles; ++i) {
    TriangleCorners t = input.corners(static_cast<std::uint32_t>(i));
    for (Vec3& v : t)
      v = (v - origin_) / voxel_;
    touched_voxels(t, switch_on);
    if (i % 65536 == 0)
      run.check();
  }
  accessor.clear();
  openvdb::tools::dilateActiveValues(mask, input.band_voxels, openvdb::tools::NN_FACE_EDGE_VERTEX,
                                     openvdb::tools::EXPAND_TILES);
  tree_.topologyUnion(mask);
  tree_.voxelizeActiveTiles();
}

void OpenvdbGrid::fill(const VoxelGridInput& input, const RunContext& run) {
  std::vector<openvdb::FloatTree::LeafNodeType*> leaves;
  tree_.getNodes(leaves);
  for_blocks(leaves.size(), 4, run, [&](std::size_t begin, std::size_t end) {
    std::optional<std::uint32_t> hint;
    for (std::size_t i = begin; i < end; ++i)
      for (auto value = leaves[i]->beginValueOn(); value; ++value) {
        const Vec3 p = centre(value.getCoord());
        const double d = input.distance(p, hint);
        value.setValue(static_cast<float>(input.in_air(p) ? -d : d));
      }
  });
}

} // namespace leastwall

extern "C" const char* const leastwall_field_version = LEASTWALL_VERSION;

extern "C" leastwall::VoxelGrid* leastwall_make_voxel_grid(const leastwall::VoxelGridInput& input,
                                                           const leastwall::RunContext& run) {
  return new leastwall::OpenvdbGrid(input, run);
}
