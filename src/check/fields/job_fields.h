// Both surfaces of every wall as signed distance fields, and the wall, as a file of named grids.
#pragma once

#include "base/run_context.h"
#include "check/check_job.h"

#include <cstddef>
#include <string>
#include <vector>

namespace leastwall {

/// Keeps the meshes of a job that is about to be checked.
class JobFields {
 public:
  explicit JobFields(const JobInput& job);

  /// The bytes of a .vdb file. Of each mesh that somebody drew a grid of signed distances, mm,
  /// exact at the middles of the voxels within three voxels of the surface; negative inside the
  /// body, or over the sheet. Of each wall between two of them "wall ...": at voxels that the outer
  /// surface passes through, how far its nearest place is from the inner one, mm; negative where
  /// that is cut through. All as drawn, in the frame of the part. Throws RunError, Cancelled.
  std::string bytes(const RunContext& run) const;

 private:
  struct Surface {
    std::string name;
    TriMesh mesh;
    bool closed = false;
  };
  struct Wall {
    std::string name;
    std::size_t outer = 0, inner = 0; ///< of surfaces_
  };
  std::vector<Surface> surfaces_;
  std::vector<Wall> walls_;
  double finest_mm_ = 0; ///< no voxel is smaller
};

/// Of one field: the finest that holds no more than about three million voxels, at least
/// `finest_mm`; two digits.
double field_voxel_mm(const TriMesh& mesh, double finest_mm);

} // namespace leastwall
