// Faces with any number of corners, as PLY, OFF and imported files hold them.
#pragma once

#include "mesh/file_mesh.h"
#include "mesh/mesh.h"

#include <cstdint>
#include <filesystem>
#include <vector>

namespace leastwall {

struct PolygonSoup {
  std::vector<Vec3> vertices;
  std::vector<std::uint32_t> corners; ///< of all faces, one after the other
  std::vector<std::uint32_t> sizes;   ///< corners per face
};

/// Cuts the faces into triangles, welds them and puts them into `read`. Faces with fewer than three
/// corners are left out (notice `points-or-lines`); corners out of one plane give the notice
/// `bent-polygons`. Throws InputError for coordinates that are not finite, for a corner that names
/// no vertex, for a face of more than four corners that crosses itself (a quadrilateral gives the
/// notice `crossed-polygons`), and when no face is left.
void take_polygons(const std::filesystem::path& file, PolygonSoup soup, FileMesh& read);

} // namespace leastwall
