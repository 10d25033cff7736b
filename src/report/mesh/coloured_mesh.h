// The measured skin as a mesh with a colour at every corner, for ordinary viewers.
// Both formats show the colours of colour_map.h, so they match the pictures.
#pragma once

#include "wall/sampling/wall_map.h"

#include <span>
#include <string>

namespace leastwall {

/// Binary little-endian PLY: x y z (float, mm, model space), red green blue (uchar), wall_mm
/// (float) a vertex; triangles as `list uchar int vertex_indices`. `values_mm` holds one wall a
/// sample and gives the colours. The same input gives the same bytes. Throws RunError when the
/// counts do not match or there is nothing to write.
std::string coloured_ply(const WallMap& skin, std::span<const double> values_mm);

/// glTF 2.0 in one binary file (GLB): positions in metres, y up (model x, z, -y), colours as
/// normalised linear RGBA in 16 bits, as the specification has it for COLOR_0; one material,
/// unlit where the viewer knows KHR_materials_unlit, so that the light does not change colours.
std::string coloured_glb(const WallMap& skin, std::span<const double> values_mm);

} // namespace leastwall
