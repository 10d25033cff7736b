// field/voxel_grid.h where there is no OpenVDB: a grid of our own guides in its place, to the same
// bytes.
#include "field/voxel_grid.h"

#include "base/errors.h"
#include "field/block_grid.h"

namespace leastwall {

void* field_function(const char*) {
  throw RunError("fields are written by the installed program: they need OpenVDB");
}

std::unique_ptr<VoxelGrid> make_voxel_grid(const VoxelGridInput& input, const RunContext& run) {
  return std::make_unique<BlockGrid>(input, run);
}

} // namespace leastwall
