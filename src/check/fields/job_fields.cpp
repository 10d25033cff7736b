#include "check/fields/job_fields.h"

#include "field/distance_field.h"
#include "field/fields_file.h"
#include "spatial/closest_surface.h"
#include "spatial/vertical_ray_grid.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <map>
#include <optional>

namespace leastwall {
namespace {

constexpr double kMostVoxels = 3e6;
constexpr int kBand = 3; // of narrow-band level sets, by convention
constexpr double kVoxelsPerLimit = 3;

/// One surface and what is asked of it.
struct Asked {
  const TriMesh& mesh;
  ClosestSurface near;
  VerticalRayGrid columns;
  double voxel_mm;

  Asked(const TriMesh& m, double finest_mm)
      : mesh(m), near(m), columns(m), voxel_mm(field_voxel_mm(m, finest_mm)) {}

  bool inside(Vec3 p) const { return columns.count(p).below % 2 != 0; }

  VoxelGridInput grid(int band) const {
    VoxelGridInput out;
    out.triangles = mesh.triangles.size();
    out.origin = mesh.box().middle();
    out.voxel_mm = voxel_mm;
    out.band_voxels = band;
    out.corners = [this](std::uint32_t i) { return near.corners(i); };
    out.distance = [this](Vec3 p, std::optional<std::uint32_t>& hint) {
      const SurfaceHit hit = near.nearest(p, hint);
      hint = hit.triangle;
      return hit.distance;
    };
    out.in_air = [this](Vec3 p) { return inside(p); };
    return out;
  }
};

} // namespace

double field_voxel_mm(const TriMesh& mesh, double finest_mm) {
  double voxel = finest_mm;
  while (DistanceField::expected_voxels(mesh, {voxel, kBand * voxel}) > kMostVoxels)
    voxel *= 1.1;
  const double digit = std::pow(10.0, std::floor(std::log10(voxel)) - 1);
  return std::ceil(voxel / digit - 1e-9) * digit;
}

JobFields::JobFields(const JobInput& job) {
  std::map<std::size_t, std::size_t> known; // of the job's meshes
  const auto surface = [&](std::size_t mesh, const std::string& name) {
    const auto [place, fresh] = known.try_emplace(mesh, surfaces_.size());
    if (fresh)
      surfaces_.push_back({name, job.meshes[mesh].mesh, job.meshes[mesh].findings.closed()});
    return place->second;
  };
  const auto named = [&](const WallInput& wall, const std::string& cut) {
    return wall.part.empty() ? cut : wall.part + " " + cut;
  };
  for (const WallInput& wall : job.walls) {
    if (!wall.drawn || wall.same_as)
      continue;
    const bool one = job.one_wall();
    const std::size_t outer = surface(wall.skin_mesh, one ? "skin" : named(wall, wall.outer)),
                      inner = surface(wall.pocket_mesh, one ? "pocket" : named(wall, wall.inner));
    walls_.push_back(
        {one ? "wall" : "wall " + named(wall, wall.outer + " - " + wall.inner), outer, inner});
    const double finest = wall.input.budget.limit_mm / kVoxelsPerLimit;
    finest_mm_ = finest_mm_ > 0 ? std::min(finest_mm_, finest) : finest;
  }
}

std::string JobFields::bytes(const RunContext& run) const {
  std::deque<Asked> asked;
  std::vector<NamedField> fields;
  for (const Surface& surface : surfaces_) {
    const Asked& of = asked.emplace_back(surface.mesh, finest_mm_);
    NamedField field;
    field.name = surface.name;
    field.what = surface.closed ? "signed distance to the surface, mm; negative inside the body"
                                : "signed distance to the surface, mm; negative over the sheet";
    field.grid = of.grid(kBand);
    field.closed = surface.closed;
    fields.push_back(std::move(field));
  }
  for (const Wall& wall : walls_) {
    const Asked &outer = asked[wall.outer], &inner = asked[wall.inner];
    NamedField field;
    field.name = wall.name;
    field.what = "wall as drawn, mm: from the outer surface's place nearest to the voxel to the "
                 "nearest place of the inner one; negative where cut through";
    field.grid = outer.grid(1);
    field.within_mm = std::sqrt(3.0) / 2 * outer.voxel_mm;
    field.value = [&outer, &inner](Vec3 centre) {
      const Vec3 on = outer.near.nearest(centre).point;
      const double wall_mm = inner.near.nearest(on).distance;
      return inner.inside(on) ? -wall_mm : wall_mm;
    };
    fields.push_back(std::move(field));
  }
  return fields_file(fields, run);
}

} // namespace leastwall
