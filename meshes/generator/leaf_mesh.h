// Triangles of the leaf panel's back and front: open sheets over the whole board, as binary PLY.
#pragma once

#include <cstdint>
#include <filesystem>

namespace leastwall::demo {

enum class LeafPart { back, front };

/// Writes the sheet, about 70,000 triangles, facets facing up (+z) in both.
/// Returns the number of triangles. Throws RunError when the file cannot be written.
std::uint32_t write_leaf(const std::filesystem::path& path, LeafPart part);

} // namespace leastwall::demo
