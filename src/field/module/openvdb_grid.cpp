// The module leastwall-field.so: exact distances on an OpenVDB tree.
#include "field/module/openvdb_grid.h"

#include "base/parallel.h"

#include <algorithm>
#include <cmath>
#include <openvdb/tools/Morphology.h>
#include <vector>

namespace leastwall {
namespace {

using MaskAccessor = openvdb::tree::ValueAccessor<openvdb::MaskTree>;

void mark_box(const Box& b, MaskAccessor& mask) {
  const auto low = [](double v) { return static_cast<int>(std::floor(v + 0.5 - 1e-6)); };
  const auto high = [](double v) { return static_cast<int>(std::floor(v + 0.5 + 1e-6)); };
  for (int x = low(b.low.x); x <= high(b.high.x); ++x)
    for (int y = low(b.low.y); y <= high(b.high.y); ++y)
      for (int z = low(b.low.z); z <= high(b.high.z); ++z)
        mask.setValueOn(openvdb::Coord(x, y, z));
}

/// Marks every voxel that the triangle may touch: halves it until a piece spans few voxels, then
/// marks the piece's whole box. Coordinates in voxels.
void mark_triangle(const TriangleCorners& t, MaskAccessor& mask) {
  std::size_t longest = 0;
  double l2 = -1;
  for (std::size_t i = 0; i < 3; ++i) {
    const double e2 = length_squared(t[(i + 1) % 3] - t[i]);
    if (e2 > l2) {
      l2 = e2;
      longest = i;
    }
  }
  if (l2 <= 4) {
    Box b;
    for (const Vec3& v : t)
      b.add(v);
    mark_box(b, mask);
    return;
  }
  const Vec3 a = t[longest], b = t[(longest + 1) % 3], c = t[(longest + 2) % 3];
  const Vec3 middle = (a + b) * 0.5;
  mark_triangle({a, middle, c}, mask);
  mark_triangle({middle, b, c}, mask);
}

} // namespace

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
  MaskAccessor accessor(mask);
  for (std::size_t i = 0; i < input.triangles; ++i) {
    TriangleCorners t = input.corners(static_cast<std::uint32_t>(i));
    for (Vec3& v : t)
      v = (v - origin_) / voxel_;
    mark_triangle(t, accessor);
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
