// The second pocket of the whole gourd: a room for embers, cut into the cured resin of the candle
// room. Half an ellipsoid under the pocket face, a closed solid, facets outward, as binary STL.
#pragma once

#include <cstdint>
#include <filesystem>

namespace leastwall::demo {

/// Returns the number of triangles written. Throws RunError when the file cannot be written.
std::uint32_t write_ember_room(const std::filesystem::path& path);

} // namespace leastwall::demo
