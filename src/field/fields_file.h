// Fields as a file in the open format of OpenVDB (.vdb), for viewers and other programs.
#pragma once

#include "base/run_context.h"
#include "field/voxel_grid.h"

#include <functional>
#include <optional>
#include <span>
#include <string>

namespace leastwall {

/// One named grid of floats.
struct NamedField {
  std::string name, what; ///< the grid's name, and one sentence about its values
  /// Where it has values: round these triangles. `in_air`: negative there.
  VoxelGridInput grid;
  /// A closed surface: the tree is filled inside with the negative of the band, a level set.
  bool closed = false;
  /// Instead of the signed distance: the value at a voxel whose centre is no farther than
  /// `within_mm` from the surface; others have none.
  std::function<double(Vec3 centre)> value;
  double within_mm = 0;
};

/// The bytes of one file with all fields. Coordinates are in mm by each grid's transform; metadata
/// of each: "unit" = "mm", "voxel_mm", "what". The same bytes for the same input on any number of
/// threads. Throws RunError where the module is missing or broken, Cancelled.
std::string fields_file(std::span<const NamedField> fields, const RunContext& run);

/// Of the module, by the name below.
using WriteFields = void(std::span<const NamedField> fields, const RunContext& run,
                         std::string& out);
inline constexpr const char* kWriteFields = "leastwall_write_fields";

} // namespace leastwall
