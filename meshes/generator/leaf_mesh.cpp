#include "leaf_mesh.h"

#include "curves.h"
#include "leaf_shape.h"
#include "mesh_stream.h"

#include <string>

namespace leastwall::demo {

std::uint32_t write_leaf(const std::filesystem::path& path, LeafPart part) {
  const bool back = part == LeafPart::back;
  // The two grids differ, so that no corners face each other.
  const std::uint32_t columns = back ? 241 : 248, rows = back ? 151 : 155;
  const std::string name = back ? "back (pocket)" : "front (skin)";
  PlyGrid out(path, "leastwall demo mesh, leaf panel, " + name + ", mm", columns, rows);
  for (std::uint32_t j = 0; j < rows; ++j) {
    const double y = mix(-0.5, 0.5, static_cast<double>(j) / (rows - 1)) * LeafPanel::height_mm;
    for (std::uint32_t i = 0; i < columns; ++i) {
      const double x = mix(-0.5, 0.5, static_cast<double>(i) / (columns - 1)) * LeafPanel::width_mm;
      const LeafDepths depth = leaf_depths(x, y);
      out.point({x, y, -(back ? depth.back : depth.front)});
    }
  }
  out.close();
  return 2 * (columns - 1) * (rows - 1);
}

} // namespace leastwall::demo
