#include "field/distance_field.h"

#include "base/errors.h"
#include "field/voxel_grid.h"
#include "mesh/facet_area.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr double kMaxVoxels = 1e8;

int band_voxels_of(const FieldOptions& options) {
  return static_cast<int>(std::ceil(options.band_mm / options.voxel_mm));
}

} // namespace

double DistanceField::expected_voxels(const TriMesh& mesh, const FieldOptions& options) {
  return area_of(mesh) / (options.voxel_mm * options.voxel_mm) *
         (2.0 * band_voxels_of(options) + 3);
}

DistanceField::DistanceField(const ClosestSurface& surface, const std::function<bool(Vec3)>& in_air,
                             const FieldOptions& options, const RunContext& run) {
  const double h = options.voxel_mm;
  if (!(h > 0) || !std::isfinite(h) || !(options.band_mm > 0) || !std::isfinite(options.band_mm))
    throw InputError(fmt::format("a distance field needs a voxel and a band over 0 mm, not {} and "
                                 "{}",
                                 h, options.band_mm));
  const TriMesh& mesh = surface.mesh();
  const Box box = mesh.box();
  const double expected = expected_voxels(mesh, options);
  if (expected > kMaxVoxels || length(box.size()) / h > 1e6)
    throw RunError(fmt::format("a distance field of {:.3g} mm voxels would hold about {:.2g} of "
                               "them; use voxels of {:.3g} mm or more",
                               h, expected, h * std::cbrt(expected / kMaxVoxels) * 1.1));
  VoxelGridInput input;
  input.triangles = mesh.triangles.size();
  input.origin = box.middle();
  input.voxel_mm = h;
  input.band_voxels = band_voxels_of(options);
  input.corners = [&](std::uint32_t i) { return surface.corners(i); };
  input.distance = [&](Vec3 p, std::optional<std::uint32_t>& hint) {
    const SurfaceHit hit = surface.nearest(p, hint);
    hint = hit.triangle;
    return hit.distance;
  };
  input.in_air = in_air;
  grid_ = make_voxel_grid(input, run);
}

DistanceField::~DistanceField() = default;
DistanceField::DistanceField(DistanceField&&) noexcept = default;

std::optional<double> DistanceField::at_voxel(Vec3 p) const {
  return grid_->at_voxel(p);
}

double DistanceField::at_least(Vec3 p) const {
  return grid_->at_least(p);
}

std::size_t DistanceField::voxels() const {
  return grid_->voxels();
}

} // namespace leastwall
