// Triangles of the gourd's pocket and skin: closed solids, facets outward, as binary STL.
#pragma once

#include <cstdint>
#include <filesystem>

namespace leastwall::demo {

enum class GourdPart { pocket, skin };

struct GourdMeshOptions {
  GourdPart part = GourdPart::pocket;
  std::uint32_t triangles = 70000; ///< wanted; the result is within a few percent
};

/// Writes the mesh row by row: memory grows with the square root of the number of triangles.
/// Returns the number of triangles written. Throws RunError when the file cannot be written.
std::uint32_t write_gourd(const std::filesystem::path& path, const GourdMeshOptions& options);

} // namespace leastwall::demo
