#include "mesh/placed_meshes.h"

#include "base/file/refuse_file.h"

#include <cmath>

namespace leastwall {
namespace {

std::uint64_t bytes_of(const PolygonSoup& soup) {
  return soup.vertices.size() * sizeof(Vec3) +
         (soup.corners.size() + soup.sizes.size()) * sizeof(std::uint32_t);
}

} // namespace

void place_polygons(const std::filesystem::path& file, const PolygonSoup& mesh, const Affine& map,
                    std::uint64_t max_bytes, PolygonSoup& soup) {
  const double det = map.determinant();
  if (!std::isfinite(det) || det == 0 || !is_finite(map.shift))
    refuse_file(file, "a placing in it flattens the mesh or is not finite",
                "export the mesh again, best as binary STL or PLY");
  const std::size_t first = soup.vertices.size();
  if (bytes_of(soup) + bytes_of(mesh) > max_bytes || first + mesh.vertices.size() >= 0xffffffffu)
    refuse_file(file, "the mesh is larger than the memory allowed for the import",
                "decimate it, or export it as binary STL");
  for (const Vec3& v : mesh.vertices)
    soup.vertices.push_back(map.apply(v));
  std::size_t at = 0;
  for (const std::uint32_t n : mesh.sizes) {
    for (std::uint32_t k = 0; k < n; ++k) {
      const std::uint32_t corner = mesh.corners[at + (det < 0 ? n - 1 - k : k)];
      soup.corners.push_back(static_cast<std::uint32_t>(first) + corner);
    }
    at += n;
    soup.sizes.push_back(n);
  }
}

} // namespace leastwall
