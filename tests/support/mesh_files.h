// Small meshes and the bytes of small mesh files for tests.
#pragma once

#include "mesh/mesh.h"

#include <cstdint>
#include <cstring>
#include <fmt/format.h>
#include <string>

namespace leastwall::test {

/// Closed box from the origin to `size`, 8 vertices, 12 facets that look outwards.
inline TriMesh box_mesh(Vec3 size = {10, 20, 0.8}, Vec3 low = {}) {
  TriMesh m;
  for (int i = 0; i < 8; ++i)
    m.vertices.push_back({low.x + ((i & 1) ? size.x : 0), low.y + ((i & 2) ? size.y : 0),
                          low.z + ((i & 4) ? size.z : 0)});
  m.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                 {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
  return m;
}

template <class T> void append_raw(std::string& bytes, T value) {
  char raw[sizeof(T)];
  std::memcpy(raw, &value, sizeof(T));
  bytes.append(raw, sizeof(T));
}

struct StlOptions {
  std::string header = "test mesh"; ///< padded with NUL to 80 bytes
  std::int64_t count_off = 0;       ///< added to the count field
  double normal_sign = 1;           ///< of the stored normals; 0 writes zeros
};

inline std::string binary_stl(const TriMesh& m, const StlOptions& o = {}) {
  std::string bytes = o.header;
  bytes.resize(80, '\0');
  append_raw(bytes, static_cast<std::uint32_t>(static_cast<std::int64_t>(m.triangles.size()) +
                                               o.count_off));
  for (const Tri& t : m.triangles) {
    const Vec3 n =
        unit(cross(m.vertices[t[1]] - m.vertices[t[0]], m.vertices[t[2]] - m.vertices[t[0]])) *
        o.normal_sign;
    for (const Vec3 p : {n, m.vertices[t[0]], m.vertices[t[1]], m.vertices[t[2]]})
      for (const double c : {p.x, p.y, p.z})
        append_raw(bytes, static_cast<float>(c));
    append_raw(bytes, std::uint16_t{0});
  }
  return bytes;
}

/// ASCII STL; `name` follows `solid`.
inline std::string ascii_stl(const TriMesh& m, const std::string& name = "box") {
  std::string text = "solid " + name + "\n";
  for (const Tri& t : m.triangles) {
    text += " facet normal 0 0 0\n  outer loop\n";
    for (const std::uint32_t k : t) {
      const Vec3 p = m.vertices[k];
      text += fmt::format("   vertex {} {} {}\n", p.x, p.y, p.z);
    }
    text += "  endloop\n endfacet\n";
  }
  return text + "endsolid " + name + "\n";
}

/// Height field of n x n cells over a square of `side_mm`, z = f(x, y); an open sheet, facets up.
template <class F> TriMesh sheet_mesh(std::uint32_t n, double side_mm, const F& f) {
  TriMesh m;
  for (std::uint32_t j = 0; j <= n; ++j)
    for (std::uint32_t i = 0; i <= n; ++i) {
      const double x = side_mm * i / n, y = side_mm * j / n;
      m.vertices.push_back({x, y, f(x, y)});
    }
  for (std::uint32_t j = 0; j < n; ++j)
    for (std::uint32_t i = 0; i < n; ++i) {
      const std::uint32_t a = j * (n + 1) + i, b = a + 1, c = a + n + 1, d = c + 1;
      m.triangles.push_back({a, b, d});
      m.triangles.push_back({a, d, c});
    }
  return m;
}

inline std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  if (at != text.npos)
    text.replace(at, from.size(), to);
  return text;
}

} // namespace leastwall::test
