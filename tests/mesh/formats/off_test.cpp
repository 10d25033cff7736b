// OFF files good and bad. Source of the format: Geomview manual, "OFF Files". Expected numbers: the
// box of 10 x 20 x 0.8 has a volume of 160; a regular polygon of 12 corners on a circle of radius r
// covers 3 r^2.
#include "support/load_helpers.h"
#include "support/mesh_files.h"
#include "support/temp_dir.h"

#include <cmath>
#include <numbers>

using namespace leastwall;
using namespace leastwall::test;

namespace {

/// `after_vertex`, `after_face`: what follows their numbers in each line.
std::string box_text(const std::string& head, const std::string& after_vertex = "",
                     const std::string& after_face = "") {
  std::string text = head;
  for (const Vec3& v : box_mesh().vertices)
    text += fmt::format("{} {} {}{}\n", v.x, v.y, v.z, after_vertex);
  for (const Tri& t : box_mesh().triangles)
    text += fmt::format("3 {} {} {}{}\n", t[0], t[1], t[2], after_face);
  return text;
}

} // namespace

TEST_CASE("OFF: a box, whatever stands beside its coordinates and corners") {
  const TempDir dir;
  const auto read = [&](const std::string& text) {
    CAPTURE(text.substr(0, 60));
    const LoadedMesh m = load(dir.file("box.off", text));
    CHECK(m.format == "OFF");
    CHECK(m.findings.closed());
    CHECK(m.mesh.triangles.size() == 12);
    CHECK(m.findings.components[0].signed_volume_mm3 == doctest::Approx(160).epsilon(1e-12));
    CHECK(has_notice(m, "unit-assumed"));
  };
  read(box_text("OFF\n8 12 0\n"));
  read(box_text("OFF 8 12 18\n"));
  read(box_text("\xef\xbb\xbfOFF\r\n# a box\n\n8 12\n", " # corner", " # face"));
  read(box_text("NOFF\n8 12 0\n", " 0 0 1"));
  read(box_text("COFF\n8 12 0\n", " 0.1 0.2 0.3 1"));
  read(box_text("CNOFF\n8 12 0\n", " 0 0 1 255 0 0"));
  read(box_text("STOFF\n8 12 0\n", " 0.5 0.5"));
  read(box_text("OFF\n8 12 0\n", "", " 7"));
  read(box_text("OFF\n8 12 0\n", "", "  255 0 0"));
  read(box_text("OFF\n8 12 0\n", "", " 0.5 0.5 0.5 1"));
}

TEST_CASE("OFF: faces with ten corners and more are read whole") {
  const TempDir dir;
  for (const int corners : {9, 10, 12, 40}) {
    CAPTURE(corners);
    // A prism: two faces of so many corners, and quadrilaterals around.
    std::string text = fmt::format("OFF\n{} {} 0\n", 2 * corners, corners + 2);
    std::string floor = fmt::format("{}", corners), top = floor;
    for (int i = 0; i < 2 * corners; ++i) {
      const double a = 2 * std::numbers::pi * (i % corners) / corners;
      text += fmt::format("{} {} {}\n", 5 * std::cos(a), 5 * std::sin(a), i < corners ? 0 : 2);
    }
    std::string sides;
    for (int i = 0; i < corners; ++i) {
      const int next = (i + 1) % corners;
      floor += fmt::format(" {}", corners - 1 - i);
      top += fmt::format(" {}", corners + i);
      sides += fmt::format("4 {} {} {} {}\n", i, next, corners + next, corners + i);
    }
    const LoadedMesh m = load(dir.file("prism.off", text + floor + "\n" + sides + top + "\n"));
    CHECK(m.findings.closed());
    CHECK(m.mesh.triangles.size() == static_cast<std::size_t>(2 * (corners - 2) + 2 * corners));
    const double area = 0.5 * corners * 25 * std::sin(2 * std::numbers::pi / corners);
    CHECK(m.findings.components[0].signed_volume_mm3 == doctest::Approx(2 * area).epsilon(1e-12));
    if (corners == 12)
      CHECK(m.findings.components[0].signed_volume_mm3 == doctest::Approx(2 * 75.0).epsilon(1e-12));
  }
}

// Found by damaging files; general importers leave such faces out without a word.
TEST_CASE("OFF: faces that lack corners, counts that lie, numbers that are none are refused") {
  const TempDir dir;
  const std::string points = "OFF\n4 2 0\n0 0 0\n10 0 0\n10 20 0\n0 20 1\n";
  CHECK(load(dir.file("whole.off", points + "3 0 1 2\n3 0 2 3\n")).mesh.triangles.size() == 2);
  const auto refused = [&](const std::string& text, const std::string& because) {
    CAPTURE(text);
    CHECK(contains(refusal(dir.file("bad.off", text)), because));
  };
  refused(points + "3 0 1 2\n3 120 0.8\n", "names 2 of its 3 corners");
  refused(points + "3 0 1 2\n3 0", "names 1 of its 3 corners");
  refused(points + "3 0 1 2\n", "after 1 of 2 faces");
  refused(points + "3 0 1 2\n3 0 2 -3\n", "no whole number");
  refused(points + "3 0 1 2\n3 1 2 F\n", "no whole number");
  refused(points + "3 0 1 2\n3 0 2 4\n", "names vertex 4 of 4");
  refused(points + "3 0 1 2\n3 0 2 4294967295\n", "names vertex 4294967295 of 4");
  refused(points + "3 0 1 2\n2147483647 0 2 3\n", "names 3 of its 2147483647 corners");
  refused(points + "3 0 1 2\n0 20 0.8\n", "a face has no corners");
  refused(points + "3 0 1 2\n3 0 2 3 1 0\n", "2 numbers follow");
  refused(points + "3 0 1 2\n3 0 2 3\n3 1 2 3\n", "more follows after the 2 faces");
  refused("OFF\n4 1 0\n0.000 0 0\n10.00 0 0\n", "after 2 of 4 vertices");
  refused("OFF\n3 1 0\n0 0 0\n10 0 0\n10 20\n3 0 1 2\n", "a vertex has 2 numbers");
  refused("OFF\n3 1 0\n0 0 0\n10 0 0 1\n10 20 0\n3 0 1 2\n", "a vertex has 4 numbers");
  refused("NOFF\n3 1 0\n0 0 0\n10 0 0\n10 20 0\n3 0 1 2\n", "a vertex has 3 numbers");
  for (const char* odd : {"1,010.5", "0x1p-1", "1O"})
    refused(fmt::format("OFF\n3 1 0\n0 0 0\n{} 0 0\n10 20 0\n3 0 1 2\n", odd), "not a number");
  refused("OFF\n3 1 0\n0 0 0\nnan 0 0\n10 20 0\n3 0 1 2\n", "not finite");
  refused("3 1 0\n0 0 0\n1 0 0\n10 20 0\n3 0 1 2\n", "the first word is not OFF");
  refused("OFF\n", "the counts are missing");
  for (const char* blanks : {" ", "  ", "\t"})
    refused(fmt::format("OFF{}BINARY\n4 2 0\n", blanks), "OFF in binary");
  for (const char* keyword : {"4OFF", "nOFF", "C4nOFF"})
    refused(fmt::format("{}\n4 2 0\n", keyword), "other than three dimensions");
  refused(box_text("OFF\n2000000000 12 0\n"), "more than the file holds");
  refused(box_text("OFF\n8 2000000000 0\n"), "more than the file holds");
  CHECK(has_notice(load(dir.file("line.off", points + "3 0 1 2\n2 0 2\n")), "points-or-lines"));
}

TEST_CASE("OFF and ASCII PLY: one that may be cut in its last number is refused") {
  const TempDir dir;
  std::string points;
  for (int i = 0; i < 30; ++i)
    points += fmt::format("{} {} 0\n", i, i * i);
  const std::string off = "OFF\n30 2 0\n" + points + "3 0 1 2\n3 5 7 ";
  const std::string ply = "ply\nformat ascii 1.0\nelement vertex 30\nproperty float x\n"
                          "property float y\nproperty float z\nelement face 2\nproperty list "
                          "uchar int vertex_index\nend_header\n" +
                          points + "3 0 1 2\n3 5 7 ";
  for (const std::string& text : {off, ply}) {
    const char* name = text.starts_with("OFF") ? "c.off" : "c.ply";
    CAPTURE(name);
    CHECK(contains(refusal(dir.file(name, text + "2")), "perhaps cut off"));
    CHECK(load(dir.file(name, text + "2\n")).mesh.triangles.size() == 2);
    CHECK(load(dir.file(name, text + "28")).mesh.triangles.size() == 2);
    CHECK(load(dir.file(name, text + "3")).mesh.triangles.size() == 2); // 30 names no vertex
    CHECK_FALSE(refusal(dir.file(name, text)).empty());
  }
}
