// How many triangles a mesh file says it has, before any memory is taken for them.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>

namespace leastwall {

/// Facets of a binary STL by its size, faces of a PLY by its header. Absent for formats that must
/// be read to know. Throws InputError when the file cannot be opened or its header is broken.
std::optional<std::uint64_t> stated_triangles(const std::filesystem::path& file);

} // namespace leastwall
