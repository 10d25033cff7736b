#include "field/distance_field.h"

#include "base/errors.h"
#include "base/parallel.h"

#include <cmath>
#include <fmt/format.h>
#include <openvdb/openvdb.h>
#include <openvdb/tools/Morphology.h>

namespace leastwall {
namespace {

constexpr double kMostVoxels = 1e8;

} // namespace

struct DistanceField::Grid {
  openvdb::FloatTree tree{0.0f};
  double voxel = 1;
  double outside = 0; ///< certain distance of anything outside the band
  Vec3 origin;        ///< voxel (0, 0, 0) is centred here

  openvdb::Coord voxel_of(Vec3 p) const {
    const Vec3 q = (p - origin) / voxel;
    return {static_cast<int>(std::lround(q.x)), static_cast<int>(std::lround(q.y)),
            static_cast<int>(std::lround(q.z))};
  }
  Vec3 centre(const openvdb::Coord& c) const {
    return origin + Vec3{static_cast<double>(c.x()), static_cast<double>(c.y()),
                         static_cast<double>(c.z())} *
                        voxel;
  }
};

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

DistanceField::DistanceField(const ClosestSurface& surface, const std::function<bool(Vec3)>& in_air,
                             const FieldOptions& options, const RunContext& run)
    : grid_(std::make_unique<Grid>()) {
  const double h = options.voxel_mm;
  if (!(h > 0) || !std::isfinite(h) || !(options.band_mm > 0) || !std::isfinite(options.band_mm))
    throw InputError(fmt::format("a distance field needs a voxel and a band over 0 mm, not {} and "
                                 "{}",
                                 h, options.band_mm));
  const TriMesh& mesh = surface.mesh();
  const Box box = mesh.box();
  const int rings = static_cast<int>(std::ceil(options.band_mm / h));
  double area = 0;
  for (std::uint32_t i = 0; i < mesh.triangles.size(); ++i) {
    const TriangleCorners t = surface.corners(i);
    area += 0.5 * length(cross(t[1] - t[0], t[2] - t[0]));
  }
  const double expected = area / (h * h) * (2.0 * rings + 3);
  if (expected > kMostVoxels || length(box.size()) / h > 1e6)
    throw RunError(fmt::format("a distance field of {:.3g} mm voxels would hold about {:.2g} of "
                               "them; use voxels of {:.3g} mm or more",
                               h, expected, h * std::cbrt(expected / kMostVoxels) * 1.1));
  Grid& grid = *grid_;
  grid.voxel = h;
  grid.outside = rings * h;
  grid.origin = box.middle();

  openvdb::MaskTree mask;
  {
    MaskAccessor accessor(mask);
    for (std::uint32_t i = 0; i < mesh.triangles.size(); ++i) {
      TriangleCorners t = surface.corners(i);
      for (Vec3& v : t)
        v = (v - grid.origin) / h;
      mark_triangle(t, accessor);
      if (i % 65536 == 0)
        run.check();
    }
  }
  openvdb::tools::dilateActiveValues(mask, rings, openvdb::tools::NN_FACE_EDGE_VERTEX,
                                     openvdb::tools::EXPAND_TILES);
  grid.tree.topologyUnion(mask);
  grid.tree.voxelizeActiveTiles();
  mask.clear();
  std::vector<openvdb::FloatTree::LeafNodeType*> leaves;
  grid.tree.getNodes(leaves);
  for_blocks(leaves.size(), 4, run, [&](std::size_t begin, std::size_t end) {
    std::optional<std::uint32_t> hint;
    for (std::size_t i = begin; i < end; ++i)
      for (auto value = leaves[i]->beginValueOn(); value; ++value) {
        const Vec3 p = grid.centre(value.getCoord());
        const SurfaceHit hit = surface.nearest(p, hint);
        hint = hit.triangle;
        value.setValue(static_cast<float>(in_air(p) ? -hit.distance : hit.distance));
      }
  });
}

DistanceField::~DistanceField() = default;
DistanceField::DistanceField(DistanceField&&) noexcept = default;

std::optional<double> DistanceField::at_voxel(Vec3 p) const {
  float value = 0;
  if (!grid_->tree.probeValue(grid_->voxel_of(p), value))
    return std::nullopt;
  return static_cast<double>(value);
}

double DistanceField::at_least(Vec3 p) const {
  const Vec3 q = (p - grid_->origin) / grid_->voxel;
  if (std::abs(q.x) > 1e9 || std::abs(q.y) > 1e9 || std::abs(q.z) > 1e9)
    return grid_->outside;
  const openvdb::Coord c = grid_->voxel_of(p);
  float value = 0;
  if (!grid_->tree.probeValue(c, value))
    return grid_->outside;
  // The stored value is rounded to single precision.
  const double distance_there = std::abs(static_cast<double>(value)) * (1 - 1e-7);
  return std::max(0.0, distance_there - distance(p, grid_->centre(c)));
}

std::size_t DistanceField::voxels() const {
  return grid_->tree.activeVoxelCount();
}

} // namespace leastwall
