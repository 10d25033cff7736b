// A signed distance field around a surface, on an OpenVDB grid.
//
// Every voxel of the band holds the exact distance from its centre (from the triangles themselves,
// not handed on from neighbours as voxelisers do), negative in the air. So the field is right on
// open and dirty meshes and beside walls thinner than a voxel, and what it says about a point is a
// certain bound: distances change by no more than the way walked. It guides; verdicts rest on the
// triangles.
#pragma once

#include "base/run_context.h"
#include "spatial/closest_surface.h"

#include <cstddef>
#include <functional>
#include <memory>
#include <optional>

namespace leastwall {

class VoxelGrid;

struct FieldOptions {
  double voxel_mm = 1; ///< > 0
  double band_mm = 5;  ///< the field reaches at least so far on both sides of the surface, > 0
};

class DistanceField {
 public:
  /// `in_air` tells the sign at a point (true: negative). Throws InputError for sizes that are not
  /// positive and finite, RunError when the grid would hold more than about 100 million voxels or
  /// the module with OpenVDB in it is missing.
  DistanceField(const ClosestSurface& surface, const std::function<bool(Vec3)>& in_air,
                const FieldOptions& options, const RunContext& run);
  /// About how many voxels a field would hold; each asks the triangles once.
  static double expected_voxels(const TriMesh& mesh, const FieldOptions& options);
  ~DistanceField();
  DistanceField(DistanceField&&) noexcept;
  DistanceField& operator=(DistanceField&&) = delete;

  /// The surface is certainly no nearer to `p` than this, mm, >= 0. Model space. Thread-safe.
  double at_least(Vec3 p) const;
  /// Signed distance at the centre of the voxel that holds `p`; absent outside the band.
  std::optional<double> at_voxel(Vec3 p) const;
  std::size_t voxels() const; ///< in the band

 private:
  std::unique_ptr<VoxelGrid> grid_;
};

} // namespace leastwall
