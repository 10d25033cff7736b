#include "report/mesh/stl_mesh.h"

#include "base/errors.h"
#include "report/draw/little_endian.h"

#include <limits>

namespace leastwall {

std::string stl_bytes(const TriMesh& mesh) {
  if (mesh.triangles.size() > std::numeric_limits<std::uint32_t>::max())
    throw RunError("STL: more facets than one file can hold; use a coarser mesh");
  std::string out = "leastwall, mm"; // must not begin with "solid"
  out.resize(80, ' ');
  out.reserve(84 + 50 * mesh.triangles.size());
  append_le(out, static_cast<std::uint32_t>(mesh.triangles.size()));
  for (const Tri& t : mesh.triangles) {
    const Vec3 a = mesh.vertices[t[0]], b = mesh.vertices[t[1]], c = mesh.vertices[t[2]];
    for (const Vec3 v : {unit(cross(b - a, c - a)), a, b, c})
      for (const double x : {v.x, v.y, v.z})
        append_le(out, static_cast<float>(x));
    append_le(out, std::uint16_t{0});
  }
  return out;
}

} // namespace leastwall
