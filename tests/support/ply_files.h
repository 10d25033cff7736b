// Bytes of small PLY files for tests.
#pragma once

#include "support/mesh_files.h"

#include <algorithm>
#include <string>

namespace leastwall::test {

struct PlyOptions {
  std::string body = "binary_little_endian"; ///< or binary_big_endian, ascii
  std::string coordinate = "float";          ///< or double, int
  std::string line_end = "\n";               ///< of the header
  std::string extra_header;                  ///< lines before the vertex element
  std::string vertex_count, face_count;      ///< instead of the true ones
};

template <class T> void append_ordered(std::string& bytes, T value, bool big) {
  std::string raw;
  append_raw(raw, value);
  if (big)
    std::reverse(raw.begin(), raw.end());
  bytes += raw;
}

inline std::string ply_file(const TriMesh& m, const PlyOptions& o = {}) {
  const std::string& e = o.line_end;
  std::string s = "ply" + e + "format " + o.body + " 1.0" + e + "comment made for a test" + e +
                  o.extra_header + "element vertex " +
                  (o.vertex_count.empty() ? std::to_string(m.vertices.size()) : o.vertex_count) +
                  e + "property " + o.coordinate + " x" + e + "property " + o.coordinate + " y" +
                  e + "property uchar red" + e + "property " + o.coordinate + " z" + e +
                  "element face " +
                  (o.face_count.empty() ? std::to_string(m.triangles.size()) : o.face_count) + e +
                  "property list uchar int vertex_indices" + e + "end_header" + e;
  const bool big = o.body == "binary_big_endian";
  if (o.body == "ascii") {
    for (const Vec3& v : m.vertices)
      s += fmt::format("{} {} 200 {}\n", v.x, v.y, v.z);
    for (const Tri& t : m.triangles)
      s += fmt::format("3 {} {} {}\n", t[0], t[1], t[2]);
    return s;
  }
  const auto coordinate = [&](double c) {
    if (o.coordinate == "double")
      append_ordered(s, c, big);
    else if (o.coordinate == "int")
      append_ordered(s, static_cast<std::int32_t>(c), big);
    else
      append_ordered(s, static_cast<float>(c), big);
  };
  for (const Vec3& v : m.vertices) {
    coordinate(v.x);
    coordinate(v.y);
    s += '\xc8';
    coordinate(v.z);
  }
  for (const Tri& t : m.triangles) {
    s += '\x03';
    for (const std::uint32_t k : t)
      append_ordered(s, static_cast<std::int32_t>(k), big);
  }
  return s;
}

} // namespace leastwall::test
