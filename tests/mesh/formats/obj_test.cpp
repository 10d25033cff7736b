// OBJ files good and bad. Expected numbers: the box of 10 x 20 x 0.8 has a volume of 160; a regular
// polygon of 12 corners on a circle of radius r covers 3 r^2.
#include "support/load_helpers.h"
#include "support/mesh_files.h"
#include "support/temp_dir.h"

#include <cmath>
#include <numbers>

using namespace leastwall;
using namespace leastwall::test;

namespace {

std::string obj_vertices(const TriMesh& m) {
  std::string s = "# box\n";
  for (const Vec3& v : m.vertices)
    s += fmt::format("v {} {} {}\n", v.x, v.y, v.z);
  return s;
}

std::string obj_faces(const TriMesh& m, std::size_t from, std::size_t to, int offset = 1) {
  std::string s;
  for (std::size_t t = from; t < to; ++t)
    s += fmt::format("f {} {} {}\n", static_cast<int>(m.triangles[t][0]) + offset,
                     static_cast<int>(m.triangles[t][1]) + offset,
                     static_cast<int>(m.triangles[t][2]) + offset);
  return s;
}

std::string box_text() {
  return obj_vertices(box_mesh()) + obj_faces(box_mesh(), 0, 12);
}

void check_box(const LoadedMesh& m) {
  CHECK(m.format == "OBJ");
  CHECK(m.findings.closed());
  CHECK(m.mesh.vertices.size() == 8);
  CHECK(m.mesh.triangles.size() == 12);
  CHECK(m.findings.components.size() == 1);
  CHECK(m.findings.components[0].signed_volume_mm3 == doctest::Approx(160).epsilon(1e-12));
}

} // namespace

TEST_CASE("OBJ: absolute and relative indices, groups that share vertices, quadrilaterals") {
  const TempDir dir;
  const TriMesh box = box_mesh();
  const std::string groups =
      obj_vertices(box) + "g lid\n" + obj_faces(box, 0, 6) + "g rest\n" + obj_faces(box, 6, 12);
  const std::string relative = obj_vertices(box) + obj_faces(box, 0, 12, -8);
  const std::string quads = obj_vertices(box) + "f 1 3 4 2\nf 5 6 8 7\nf 1 2 6 5\nf 3 7 8 4\n"
                                                "f 1 5 7 3\nf 2 4 8 6\n";
  const std::string before = obj_faces(box, 0, 12) + obj_vertices(box);
  for (const std::string& text : {groups, relative, quads, before}) {
    const LoadedMesh m = load(dir.file("a.obj", text));
    check_box(m);
    CHECK(has_notice(m, "unit-assumed"));
  }
  check_box(load(dir.file("textures missing.obj", "mtllib none.mtl\nusemtl oak\n" + groups)));
}

TEST_CASE("OBJ: a byte-order mark, line ends of all kinds, lines that go on, colours and looks") {
  const TempDir dir;
  const std::string box = box_text();
  const auto read = [&](const std::string& text) {
    CAPTURE(text.substr(0, 60));
    check_box(load(dir.file("b.obj", text)));
  };
  // The mark stands before the first vertex itself, not before a comment.
  read("\xef\xbb\xbf" + box.substr(box.find("v ")));
  std::string crlf, cr = box;
  for (const char c : box)
    crlf += c == '\n' ? "\r\n" : std::string(1, c);
  std::replace(cr.begin(), cr.end(), '\n', '\r');
  read(crlf);
  read(cr);
  read(replaced(box, "v 10 0 0", "v 10 \\\n0\\\n 0"));
  read(replaced(box, "v 10 0 0", "  v\t+1.e1 0.0 -0e-3 1.0 # weight of one"));
  read(replaced(box, "v 10 0 0", "v 10 0 0 0.5 0.25 1"));
  read(replaced(box, "v 10 0 0\n", "v 10 0 0\nvt 0 0\nvn 0 0 \\\n 1\ns off\no f 1 2 3\n"));
  read(replaced(box, "f 1 3 2\n", "fo 1/1 3/1/ 2//1\n"));
  // A name that ends in a backslash takes no face with it.
  read(replaced(box, "f 1 3 2\n", "mtllib C:\\wood\\\nf 1 3 2\n"));
}

TEST_CASE("OBJ: coordinates are read to the last digit") {
  const TempDir dir;
  const LoadedMesh m =
      load(dir.file("d.obj", "v 0.1 0 0\nv 123.4567890123 0 0\nv 0 7 1e-3\nf 1 2 3\n"));
  CHECK(m.findings.box.low.x == 0);
  CHECK(m.findings.box.high.x == 123.4567890123);
  CHECK(m.findings.box.high.z == 1e-3);
}

TEST_CASE("OBJ: faces with many corners, and a concave one, cover their outline only") {
  const TempDir dir;
  std::string text, face = "f";
  for (int i = 0; i < 12; ++i) {
    const double a = i * std::numbers::pi / 6;
    text += fmt::format("v {} {} 0.3\n", 5 * std::cos(a), 5 * std::sin(a));
    face += fmt::format(" {}", i + 1);
  }
  const LoadedMesh many = load(dir.file("twelve.obj", text + face + "\n"));
  CHECK(many.mesh.triangles.size() == 10);
  CHECK(many.findings.area_mm2 == doctest::Approx(75).epsilon(1e-12));
  const LoadedMesh m =
      load(dir.file("ac.obj", "v 0 0 0\nv 4 0 0\nv 4 3 0\nv 2 1 0\nv 0 3 0\nf 5 1 2 3 4\n"));
  CHECK(m.mesh.triangles.size() == 3);
  CHECK(m.findings.area_mm2 == doctest::Approx(8)); // 4 x 3 less a triangle of base 4, height 2
}

TEST_CASE("OBJ: numbers that are none are refused with their line") {
  const TempDir dir;
  const std::string box = box_text(); // line 3 is the second vertex, 10 0 0
  const auto refused = [&](const std::string& vertex, const std::string& because) {
    CAPTURE(vertex);
    const std::string line = refusal(dir.file("n.obj", replaced(box, "v 10 0 0", vertex)));
    CHECK(contains(line, because));
    CHECK(contains(line, "line 3"));
  };
  refused("v 1,010.5 0 0", "\"1,010.5\" is not a number");
  refused("v 1010,5 0 0", "decimal point");
  refused("v 0x1p-1 0 0", "\"0x1p-1\" is not a number");
  refused("v 1O 0 0", "\"1O\" is not a number");
  refused("v 10 0 0 0.5", "a fourth number, 0.5");
  refused("v 1 010.5 0 0", "a fourth number, 0");
  refused("v 10 0", "2 numbers instead of 3");
  refused("v 10 0 0 1 1", "5 numbers instead of 3");
  refused("v 1 010 2 000 3 -500", "no colour");
  refused("v", "0 numbers instead of 3");
  CHECK(
      contains(refusal(dir.file("nan.obj", replaced(box, "v 10 0 0", "v nan 0 0"))), "not finite"));
  CHECK(contains(refusal(dir.file("inf.obj", replaced(box, "v 10 0 0", "v 1e999 0 0"))),
                 "not finite"));
}

TEST_CASE("OBJ: faces that name no vertex, lack corners or are something else are refused") {
  const TempDir dir;
  const std::string v = obj_vertices(box_mesh());
  const auto refused = [&](const std::string& statement, const std::string& because) {
    CAPTURE(statement);
    const std::string line =
        refusal(dir.file("f.obj", v + "f 1 2 3\n" + statement + "\nf 1 2 4\n"));
    CHECK(contains(line, because));
    CHECK(contains(line, "line 11"));
  };
  refused("f 1 2 99", "names vertex 99 of 8");
  refused("f 1 2 -9", "names vertex -9 of 8");
  refused("f 0 1 2", "no vertex");
  refused("f 1 2 4294967297", "names vertex 4294967297 of 8");
  refused("f 1 2 99999999999999999999", "no vertex");
  refused("f 1 2", "2 corners");
  refused("f", "0 corners");
  refused("f 1 2 x", "no number of a vertex");
  refused("f 1 2 3.5", "no number of a vertex");
  refused("f 1 2 3/1/1/1", "no number of a vertex");
  refused("f 1 2 /3", "no number of a vertex");
  refused("F 1 2 3", "\"F\" is not read here");
  refused("surf 0 1 0 1 1 2 3 4", "\"surf\" is not read here");
  refused("call part.obj", "\"call\" is not read here");
  CHECK(contains(refusal(dir.file("w.obj", "v 0 0 0\nv 4 0 0\nv 4 4 0\nf -3 -4294967295 -1\n")),
                 "names vertex -4294967295 of 3"));
  CHECK(contains(refusal(dir.file("points.obj", v)), "without facets"));
  CHECK(contains(refusal(dir.file("lines.obj", v + "l 1 2 3\n")), "points or lines"));
  CHECK(has_notice(load(dir.file("both.obj", box_text() + "l 1 2 3\np 1\n")), "points-or-lines"));
  std::string wide = "\xff\xfe";
  for (const char c : box_text())
    wide += {c, '\0'};
  CHECK(contains(refusal(dir.file("wide.obj", wide)), "UTF-16"));
  CHECK(contains(refusal(dir.file("wide.obj", wide.substr(2))), "UTF-16"));
}

TEST_CASE("OBJ: one that is cut off in its last face is refused, wherever it is cut") {
  const TempDir dir;
  // 12 vertices: the last corner, 12, could be cut to 1.
  std::string text;
  for (int i = 0; i < 12; ++i)
    text += fmt::format("v {} {} 0\n", i, i * i);
  text += "f 1 2 3 4\n";
  const std::string last = "f 5 6 7 12\n";
  check_box(load(dir.file("whole.obj", box_text())));
  CHECK(load(dir.file("c.obj", text + last)).mesh.triangles.size() == 4);
  CHECK(load(dir.file("c.obj", text + "f 5 6 7 12")).mesh.triangles.size() == 4);
  for (std::size_t cut = 1; cut + 1 < last.size(); ++cut) {
    if (last.substr(0, cut) == "f 5 6 7 12")
      continue;
    CAPTURE(last.substr(0, cut));
    CHECK_FALSE(refusal(dir.file("c.obj", text + last.substr(0, cut))).empty());
  }
  const std::string slashes = "f 5/1/1 6/1/1 7/1/1 12/1/1";
  std::size_t accepted = 0;
  for (std::size_t cut = 1; cut <= slashes.size(); ++cut) {
    const std::string bytes = text + slashes.substr(0, cut);
    if (refusal(dir.file("c.obj", bytes)).empty()) {
      CAPTURE(slashes.substr(0, cut));
      ++accepted; // nothing but the number of the last normal may be cut
      CHECK(load(dir.file("c.obj", bytes)).mesh.triangles.size() == 4);
    }
  }
  CHECK(accepted == 1);
  CHECK(contains(refusal(dir.file("c.obj", "f 1 2 3\nv 0 0 0\nv 1 0 0\nv 0 1 0.2")),
                 "ends in a coordinate"));
  CHECK(contains(refusal(dir.file("c.obj", text + "f 5 6 7 12 \\")), "where a line goes on"));
}
