#include "seed_files.h"
#include "support/mesh_files.h"
#include "support/ply_files.h"

#include <cmath>
#include <limits>

namespace leastwall::fuzz {
namespace {

using namespace leastwall::test;

TriMesh with_vertex(TriMesh m, Vec3 first) {
  m.vertices[0] = first;
  return m;
}

/// A box whose every second facet is turned, one is doubled and one has no area.
TriMesh untidy() {
  TriMesh m = box_mesh();
  for (std::size_t t = 0; t < m.triangles.size(); t += 2)
    std::swap(m.triangles[t][0], m.triangles[t][1]);
  m.triangles.push_back(m.triangles[3]);
  m.triangles.push_back({0, 0, 5});
  return m;
}

TriMesh cracked() {
  TriMesh m = box_mesh();
  m.triangles.pop_back();
  m.triangles.erase(m.triangles.begin());
  return m;
}

TriMesh two_shells() {
  TriMesh m = box_mesh();
  const TriMesh other = box_mesh({2, 3, 4}, {20, 0, 0});
  for (const Tri& t : other.triangles)
    m.triangles.push_back({t[0] + 8, t[1] + 8, t[2] + 8});
  m.vertices.insert(m.vertices.end(), other.vertices.begin(), other.vertices.end());
  return m;
}

TriMesh relief() {
  return sheet_mesh(6, 30,
                    [](double x, double y) { return std::sin(x * 0.3) * std::cos(y * 0.2); });
}

void add_stl(std::vector<SeedFile>& seeds) {
  const TriMesh box = box_mesh();
  const std::string plain = binary_stl(box);
  seeds.push_back({"box.stl", plain});
  seeds.push_back({"relief.stl", binary_stl(relief())});
  seeds.push_back({"header_begins_with_solid.stl", binary_stl(box, {.header = "solid by CAD"})});
  seeds.push_back({"solid_and_trailing_bytes.stl",
                   binary_stl(box, {.header = "solid by CAD"}) + std::string(2, '\0')});
  seeds.push_back({"trailing_line_end.stl", plain + "\r\n"});
  seeds.push_back({"cut_in_a_facet.stl", plain.substr(0, plain.size() - 30)});
  seeds.push_back({"count_too_big.stl", binary_stl(box, {.count_off = 1})});
  seeds.push_back({"count_too_small.stl", binary_stl(box, {.count_off = -1})});
  seeds.push_back({"count_plus_2_to_31.stl", binary_stl(box, {.count_off = 1LL << 31})});
  seeds.push_back({"header_is_a_byte_order_mark.stl", binary_stl(box, {.header = "\xef\xbb\xbf"})});
  seeds.push_back({"normals_lie.stl", binary_stl(box, {.normal_sign = -1})});
  seeds.push_back({"normals_zero.stl", binary_stl(box, {.normal_sign = 0})});
  seeds.push_back({"untidy.stl", binary_stl(untidy())});
  seeds.push_back({"cracked.stl", binary_stl(cracked())});
  seeds.push_back({"two_shells.stl", binary_stl(two_shells())});
  seeds.push_back({"nan.stl", binary_stl(with_vertex(box, {std::nan(""), 0, 0}))});
  seeds.push_back({"huge.stl", binary_stl(with_vertex(box, {3e38, 0, 0}))});
  const std::string text = ascii_stl(box);
  seeds.push_back({"ascii.stl", text});
  seeds.push_back({"ascii_two_solids.stl", text + ascii_stl(two_shells(), "")});
  seeds.push_back({"ascii_empty_solid_first.stl", "solid none\nendsolid none\n" + text});
  seeds.push_back({"ascii_cut.stl", text.substr(0, text.size() * 2 / 3)});
  seeds.push_back({"ascii_comma.stl", replaced(text, "0.8", "0,8")});
  seeds.push_back({"ascii_nan.stl", replaced(text, "vertex 10", "vertex nan")});
  seeds.push_back({"ascii_mark.stl", "\xef\xbb\xbf" + text});
}

void add_ply(std::vector<SeedFile>& seeds) {
  const TriMesh box = box_mesh();
  for (const char* body : {"ascii", "binary_little_endian", "binary_big_endian"})
    for (const char* coordinate : {"float", "double", "int"})
      seeds.push_back({fmt::format("{}_{}.ply", body, coordinate),
                       ply_file(box, {.body = body, .coordinate = coordinate})});
  seeds.push_back({"header_lines_end_in_crlf.ply", ply_file(box, {.line_end = "\r\n"})});
  seeds.push_back({"first_byte_is_a_line_end.ply",
                   ply_file(with_vertex(box, {double{std::bit_cast<float>(10u)}, 0, 0}))});
  seeds.push_back({"vertex_count_huge.ply", ply_file(box, {.vertex_count = "2000000000"})});
  seeds.push_back({"face_count_too_big.ply", ply_file(box, {.face_count = "13"})});
  seeds.push_back(
      {"property_twice.ply", replaced(ply_file(box), "property float z", "property float x")});
  const std::string text = ply_file(box, {.body = "ascii"});
  seeds.push_back({"index_out_of_range.ply", replaced(text, "3 0 2 1", "3 0 99 1")});
  seeds.push_back({"index_negative.ply", replaced(text, "3 0 2 1", "3 0 -2 1")});
  seeds.push_back({"face_without_corners.ply", replaced(text, "3 0 2 1", "0")});
  seeds.push_back({"quad.ply", replaced(text, "3 0 2 1", "4 0 2 3 1")});
  seeds.push_back({"concave_polygon.ply",
                   "ply\nformat ascii 1.0\nelement vertex 5\nproperty float x\nproperty float y\n"
                   "property float z\nelement face 1\nproperty list uchar int vertex_index\n"
                   "end_header\n0 0 0\n4 0 0\n4 4 0\n2 1 0\n0 4 0\n5 0 1 2 3 4\n"});
  seeds.push_back(
      {"other_elements.ply", ply_file(box, {.body = "ascii",
                                            .extra_header = "obj_info seed\nelement camera 0\n"
                                                            "property float view\n"})});
  seeds.push_back({"points_only.ply", "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\n"
                                      "property float y\nproperty float z\nend_header\n1 2 3\n"});
}

} // namespace

std::vector<SeedFile> own_reader_seeds() {
  std::vector<SeedFile> seeds;
  add_stl(seeds);
  add_ply(seeds);
  return seeds;
}

} // namespace leastwall::fuzz
