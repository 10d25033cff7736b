// Meshes that a file holds once and places as often as it likes.
#pragma once

#include "mesh/polygon_soup.h"
#include "space/affine.h"

#include <cstdint>
#include <filesystem>

namespace leastwall {

/// Adds the faces of `mesh`, placed by `map`, to `soup`; those of a mirrored one are turned, so
/// that their outside stays outside. Throws InputError when `soup` would then take more than
/// `max_bytes`, and when the placing leaves no volume or is not finite.
void place_polygons(const std::filesystem::path& file, const PolygonSoup& mesh, const Affine& map,
                    std::uint64_t max_bytes, PolygonSoup& soup);

} // namespace leastwall
