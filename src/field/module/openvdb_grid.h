// Exact distances on an OpenVDB tree.
#pragma once

#include "field/voxel_grid.h"

#include <openvdb/openvdb.h>

namespace leastwall {

class OpenvdbGrid : public VoxelGrid {
 public:
  /// Throws Cancelled.
  OpenvdbGrid(const VoxelGridInput& input, const RunContext& run);

  double at_least(Vec3 p) const override;
  std::optional<double> at_voxel(Vec3 p) const override;
  std::size_t voxels() const override { return tree_.activeVoxelCount(); }

  const openvdb::FloatTree& tree() const { return tree_; }

 private:
  openvdb::Coord voxel_of(Vec3 p) const;
  Vec3 centre(const openvdb::Coord& c) const;
  /// Switches on all voxels of the band.
  void mark(const VoxelGridInput& input, const RunContext& run);
  void fill(const VoxelGridInput& input, const RunContext& run);

  openvdb::FloatTree tree_{0.0f};
  double voxel_;
  double outside_; ///< certain distance of anything outside the band
  Vec3 origin_;    ///< voxel (0, 0, 0) is centred here
};

} // namespace leastwall
