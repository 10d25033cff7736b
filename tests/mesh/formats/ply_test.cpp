// PLY files good and bad. The format: Turk, "The PLY Polygon File Format", 1994. Expected numbers:
// a box of 10 x 20 x 0.8 mm has 160 mm3.
#include "support/load_helpers.h"
#include "support/ply_files.h"
#include "support/temp_dir.h"

#include <bit>
#include <limits>

using namespace leastwall;
using namespace leastwall::test;

namespace {

void check_is_box(const LoadedMesh& m, double volume_mm3 = 160) {
  CHECK(m.mesh.vertices.size() == 8);
  CHECK(m.mesh.triangles.size() == 12);
  CHECK(m.findings.closed());
  REQUIRE(m.findings.components.size() == 1);
  CHECK(m.findings.components[0].signed_volume_mm3 == doctest::Approx(volume_mm3).epsilon(1e-6));
}

const std::string kSquareHeader = "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\n"
                                  "property float y\nproperty float z\nelement face 1\n"
                                  "property list uchar int vertex_index\nend_header\n";

} // namespace

TEST_CASE("PLY: ASCII and binary of either byte order, single, double and whole numbers") {
  const TempDir dir;
  for (const char* body : {"ascii", "binary_little_endian", "binary_big_endian"})
    for (const char* coordinate : {"float", "double", "int"})
      for (const char* line_end : {"\n", "\r\n", "\r"}) {
        CAPTURE(body);
        CAPTURE(coordinate);
        PlyOptions o{body, coordinate, line_end, {}, {}, {}};
        const bool whole = std::string(coordinate) == "int";
        check_is_box(
            load(dir.file("b.ply",
                          ply_file(box_mesh(whole ? Vec3{10, 20, 2} : Vec3{10, 20, 0.8}), o))),
            whole ? 400 : 160);
      }
  const LoadedMesh m = load(dir.file("b0.ply", ply_file(box_mesh())));
  CHECK(m.format == "binary PLY");
  CHECK_FALSE(m.unit_stated);
  CHECK(has_notice(m, "unit-assumed"));
  check_is_box(load(dir.file("no extension", ply_file(box_mesh()))));
}

TEST_CASE("PLY: data whose first byte looks like a line end") {
  const TempDir dir;
  TriMesh m = box_mesh();
  m.vertices[0].x = double{std::bit_cast<float>(0x0000000Au)};
  m.vertices[0].y = double{std::bit_cast<float>(0x0000000Du)};
  for (const char* line_end : {"\n", "\r\n", "\r"}) {
    const LoadedMesh loaded = load(
        dir.file("b3.ply", ply_file(m, {"binary_little_endian", "float", line_end, {}, {}, {}})));
    CHECK(loaded.findings.box.size().y == doctest::Approx(20));
    CHECK(loaded.findings.closed());
  }
}

TEST_CASE("PLY: elements and properties that are not needed are stepped over") {
  const TempDir dir;
  std::string text = kSquareHeader;
  text = replaced(text, "element vertex 4",
                  "obj_info anything\nelement camera 2\nproperty double focus\nproperty list uchar "
                  "float marks\nelement vertex 4");
  text = replaced(text, "property list uchar int vertex_index",
                  "property uchar red\nproperty list ushort uint vertex_indices\nproperty list "
                  "uchar float texcoord");
  text += "1.5 2 7 8\n2.5 0\n\n0 0 0\n2 0 0\n2 3 0\n0 3 0\n9 4 0 1 2 3 2 0.5 0.25\n\n";
  const LoadedMesh m = load(dir.file("extra.ply", text));
  CHECK(m.mesh.triangles.size() == 2);
  CHECK(m.findings.area_mm2 == doctest::Approx(6));
}

TEST_CASE("PLY: what is cut off, overlong or impossible is refused") {
  const TempDir dir;
  const std::string whole = ply_file(box_mesh());
  CHECK(contains(refusal(dir.file("b5.ply", whole.substr(0, whole.size() - 20))), "cut off"));
  CHECK(contains(refusal(dir.file("b5.ply", whole.substr(0, whole.size() - 1))), "cut off"));
  CHECK(
      contains(refusal(dir.file(
                   "b6.ply", ply_file(box_mesh(), {"ascii", "float", "\n", {}, "2000000000", {}}))),
               "no room"));
  CHECK(contains(
      refusal(dir.file(
          "b6.ply",
          ply_file(box_mesh(),
                   {"binary_little_endian", "float", "\n", {}, {}, "18446744073709551615"}))),
      "no room"));
  CHECK(contains(refusal(dir.file("b9.ply", whole + std::string(13, '\0'))), "bytes follow"));
  CHECK(has_notice(load(dir.file("ba.ply", whole + "\n")), "trailing-bytes"));
  CHECK(contains(
      refusal(dir.file("bb.ply", ply_file(box_mesh(), {"ascii", "float", "\n", {}, {}, "11"}))),
      "after the last item"));
  CHECK(
      contains(refusal(dir.file("bc.ply", replaced(whole, "end_header", "end_headed"))), "header"));
  CHECK(
      contains(refusal(dir.file("bd.ply", replaced(whole, "property float y", "property float x"))),
               "twice"));
  CHECK(
      contains(refusal(dir.file("be.ply", replaced(whole, "property float z", "property float w"))),
               "lack x, y or z"));
  CHECK(contains(
      refusal(dir.file("bf.ply", replaced(whole, "little_endian 1.0", "little_endian 2.0"))),
      "version"));
  CHECK(contains(refusal(dir.file("bh.ply", replaced(whole, "binary_little", "binary_middle"))),
                 "unknown"));
  CHECK(contains(refusal(dir.file("bk.ply", "ply\nformat ascii 1.0\nelement vertex 1\nproperty "
                                            "float x\nproperty float y\nproperty float "
                                            "z\nend_header\n0 0 0\n")),
                 "without faces"));
}

TEST_CASE("PLY: corners that name no vertex, and vertices that are no numbers") {
  const TempDir dir;
  TriMesh far = box_mesh();
  far.triangles[11][2] = 99;
  CHECK(contains(refusal(dir.file("b7.ply", ply_file(far))), "face 12 names vertex 99 of 8"));
  far.triangles[11][2] = 0xffffffffu;
  CHECK(contains(refusal(dir.file("b8.ply", ply_file(far))), "face 12 names vertex -1"));
  TriMesh nan = box_mesh();
  nan.vertices[5].y = std::numeric_limits<double>::quiet_NaN();
  for (const char* body : {"ascii", "binary_big_endian"})
    CHECK(contains(refusal(dir.file("bg.ply", ply_file(nan, {body, "float", "\n", {}, {}, {}}))),
                   "1 vertex is not finite (NaN or infinite), first at vertex 6"));
}

TEST_CASE("PLY: text that is not plain numbers is refused with its line") {
  const TempDir dir;
  const auto square = [&](const std::string& body) {
    return refusal(dir.file("square.ply", kSquareHeader + body));
  };
  CHECK(square("0 0 0\n2 0 0\n2 3 0\n0 3 0\n4 0 1 2 3\n").empty());
  CHECK(contains(square("0 0 0\n2,5 0 0\n2 3 0\n0 3 0\n4 0 1 2 3\n"), "line 11: \"2,5\""));
  CHECK(contains(square("0 0 0\n2 0\n2 3 0\n0 3 0\n4 0 1 2 3\n"), "line 11: has too few"));
  CHECK(contains(square("0 0 0\n2 0 0 0\n2 3 0\n0 3 0\n4 0 1 2 3\n"), "line 11: has too many"));
  CHECK(contains(square("0 0 0\n2 0 0\n2 3 0\n0 3 0\n4 0 1 2\n"), "line 14"));
  CHECK(contains(square("0 0 0\n2 0 0\n2 3 0\n0 3 0\n4 0 1 2.5 3\n"), "whole number"));
  CHECK(contains(square("0 0 0\n2 0 0\n2 3 0\n0 3 0\n-4 0 1 2 3\n"), "list of -4"));
  CHECK(contains(square("0 0 0\n2 0 0\n2 3 0\n0 3 0\n2 0 1\n"), "only points or lines"));
}

TEST_CASE("PLY: a face without corners is left out with a notice") {
  const TempDir dir;
  const std::string text =
      replaced(ply_file(box_mesh(), {"ascii", "float", "\n", {}, {}, {}}), "3 3 7 5\n", "0\n");
  const LoadedMesh m = load(dir.file("bi.ply", text));
  CHECK(m.mesh.triangles.size() == 11);
  CHECK(has_notice(m, "points-or-lines"));
  CHECK(m.findings.boundary_edges == 3);
}

TEST_CASE("PLY: quadrilaterals, concave and bent polygons") {
  const TempDir dir;
  // An arrow head: as a fan from its first corner it would cover air. Area by the shoelace formula.
  const std::string arrow = replaced(kSquareHeader, "vertex 4", "vertex 5") +
                            "0 2 1\n4 0 1\n1 2 1\n4 4 1\n2 3 1\n5 0 1 2 3 4\n";
  const LoadedMesh m = load(dir.file("ac.ply", arrow));
  CHECK(m.mesh.triangles.size() == 3);
  const double shoelace = 0.5 * std::abs(0 * 0 - 4 * 2 + (4 * 2 - 1 * 0) + (1 * 4 - 4 * 2) +
                                         (4 * 3 - 2 * 4) + (2 * 2 - 0 * 3));
  CHECK(m.findings.area_mm2 == doctest::Approx(shoelace));
  CHECK_FALSE(has_notice(m, "bent-polygons"));
  const LoadedMesh bent =
      load(dir.file("bent.ply", kSquareHeader + "0 0 0\n2 0 1\n2 3 0\n0 3 1\n4 0 1 2 3\n"));
  CHECK(has_notice(bent, "bent-polygons"));
  const LoadedMesh bow =
      load(dir.file("bow4.ply", kSquareHeader + "0 0 0\n2 3 0\n2 0 0\n0 4 0\n4 0 1 2 3\n"));
  CHECK(has_notice(bow, "crossed-polygons"));
  CHECK(contains(
      refusal(dir.file("bow.ply", replaced(kSquareHeader, "vertex 4", "vertex 5") +
                                      "0 0 0\n4 4 0\n4 0 0\n0 3 0\n-1 1 0\n5 0 1 2 3 4\n")),
      "crosses itself"));
}
