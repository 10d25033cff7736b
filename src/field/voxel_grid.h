// The grid behind a distance field. OpenVDB is a large library that most runs never need, so what
// uses it is built as a module of its own, `leastwall-field.so`, and loaded when it is asked for.
#pragma once

#include "base/run_context.h"
#include "mesh/mesh.h"
#include "spatial/triangle_distance.h"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>

namespace leastwall {

class VoxelGrid {
 public:
  VoxelGrid() = default;
  VoxelGrid(const VoxelGrid&) = delete;
  VoxelGrid& operator=(const VoxelGrid&) = delete;
  virtual ~VoxelGrid() = default;
  virtual double at_least(Vec3 p) const = 0;                ///< as DistanceField
  virtual std::optional<double> at_voxel(Vec3 p) const = 0; ///< as DistanceField
  virtual std::size_t voxels() const = 0;                   ///< as DistanceField
};

/// What the module asks of its caller.
struct VoxelGridInput {
  std::size_t triangles = 0;
  Vec3 origin;         ///< a voxel is centred here
  double voxel_mm = 1; ///< > 0
  int band_voxels = 1; ///< voxels of the band on each side
  std::function<TriangleCorners(std::uint32_t)> corners;
  /// Distance to the surface, mm; `hint` goes from one call to the next of one thread.
  std::function<double(Vec3, std::optional<std::uint32_t>& hint)> distance;
  std::function<bool(Vec3)> in_air; ///< true: negative
};

/// Loads the module and fills a grid. Throws RunError where the module is missing or broken,
/// Cancelled when `run` says so.
std::unique_ptr<VoxelGrid> make_voxel_grid(const VoxelGridInput& input, const RunContext& run);

/// A function of the module by its name; loads the module. Throws RunError.
void* field_function(const char* name);

/// The function of the module, by the name below.
using MakeVoxelGrid = VoxelGrid*(const VoxelGridInput& input, const RunContext& run);
inline constexpr const char* kMakeVoxelGrid = "leastwall_make_voxel_grid";
/// Name of the module's version, a const char*: that of the program, or it is not ours.
inline constexpr const char* kFieldVersion = "leastwall_field_version";

} // namespace leastwall
