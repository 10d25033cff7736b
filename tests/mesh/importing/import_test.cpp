// COLLADA, through the import process. Expected numbers: the box of 10 x 20 x 0.8 has a volume of
// 160.
#include "mesh/importing/import_protocol.h"
#include "support/load_helpers.h"
#include "support/mesh_files.h"
#include "support/temp_dir.h"

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <numbers>

using namespace leastwall;
using namespace leastwall::test;

namespace {

std::string collada_text(const TriMesh& m, const std::string& unit, const std::string& up) {
  std::string positions, indices;
  for (const Vec3& v : m.vertices)
    positions += fmt::format("{} {} {} ", v.x, v.y, v.z);
  for (const Tri& t : m.triangles)
    indices += fmt::format("{} {} {} ", t[0], t[1], t[2]);
  return fmt::format(
      R"(<?xml version="1.0"?><COLLADA xmlns="http://www.collada.org/2005/11/COLLADASchema" )"
      R"(version="1.4.1"><asset>{}<up_axis>{}</up_axis></asset><library_geometries>)"
      R"(<geometry id="g"><mesh><source id="p"><float_array id="a" count="{}">{}</float_array>)"
      R"(<technique_common><accessor source="#a" count="{}" stride="3"><param name="X" )"
      R"(type="float"/><param name="Y" type="float"/><param name="Z" type="float"/></accessor>)"
      R"(</technique_common></source><vertices id="v"><input semantic="POSITION" source="#p"/>)"
      R"(</vertices><triangles count="{}"><input semantic="VERTEX" source="#v" offset="0"/>)"
      R"(<p>{}</p></triangles></mesh></geometry></library_geometries><library_visual_scenes>)"
      R"(<visual_scene id="s"><node><instance_geometry url="#g"/></node></visual_scene>)"
      R"(</library_visual_scenes><scene><instance_visual_scene url="#s"/></scene></COLLADA>)",
      unit, up, m.vertices.size() * 3, positions, m.vertices.size(), m.triangles.size(), indices);
}

} // namespace

TEST_CASE("COLLADA: unit and axes come out as the file has them") {
  const TempDir dir;
  for (const char* up : {"Z_UP", "Y_UP"}) {
    CAPTURE(up);
    const LoadedMesh mm = load(dir.file(
        "e0.dae", collada_text(box_mesh(), R"(<unit name="millimeter" meter="0.001"/>)", up)));
    CHECK(mm.format == "COLLADA");
    CHECK(mm.findings.box.size().x == doctest::Approx(10).epsilon(1e-6));
    CHECK(mm.findings.box.size().y == doctest::Approx(20).epsilon(1e-6));
    CHECK(mm.findings.box.size().z == doctest::Approx(0.8).epsilon(1e-6));
    CHECK(mm.findings.components[0].signed_volume_mm3 == doctest::Approx(160).epsilon(1e-5));
  }
  const LoadedMesh inch = load(dir.file(
      "e2.dae", collada_text(box_mesh(), R"(<unit name="inch" meter="0.0254"/>)", "Z_UP")));
  CHECK(inch.findings.box.size().y == doctest::Approx(20 * 25.4).epsilon(1e-6));
}

TEST_CASE("COLLADA: an axis other than z that points up is told, as for glTF") {
  const TempDir dir;
  const auto told = [&](const std::string& text) {
    const LoadedMesh m = load(dir.file("up.dae", text));
    return std::string(has_notice(m, "x-up") ? "x" : "") + (has_notice(m, "y-up") ? "y" : "");
  };
  const std::string z = collada_text(box_mesh(), "", "Z_UP");
  CHECK(told(z).empty());
  CHECK(told(collada_text(box_mesh(), "", "Y_UP")) == "y");
  CHECK(told(collada_text(box_mesh(), "", "X_UP")) == "x");
  // The specification: y where nothing is said; another element's asset says nothing.
  std::string none = z;
  none.erase(none.find("<up_axis>"), std::string("<up_axis>Z_UP</up_axis>").size());
  CHECK(told(none) == "y");
  std::string later = none;
  later.insert(later.find("<mesh>"), "<asset><up_axis>Z_UP</up_axis></asset>");
  CHECK(told(later) == "y");
  std::string comment = none;
  comment.insert(comment.find("<library_geometries>"), "<!-- <up_axis>Z_UP</up_axis> -->");
  CHECK(told(comment) == "y");
}

TEST_CASE("COLLADA: a list of facets with something else than numbers is refused at once") {
  // The importer's parser takes 0 for such a word again and again, until memory or time ends.
  const TempDir dir;
  const std::string whole = collada_text(box_mesh(), "", "Z_UP");
  const std::string start = "<p>";
  REQUIRE(contains(whole, start));
  const auto begin = std::chrono::steady_clock::now();
  for (const char* word : {"nan ", "! ", "\xe2\x82\xac ", "-1 ", "1.5 ", "&amp; "}) {
    CAPTURE(word);
    const auto file = dir.file("word.dae", replaced(whole, start, start + word));
    CHECK(contains(refusal(file), "where a whole number was expected"));
  }
  CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(5));
  CHECK(load(dir.file("blanks.dae", replaced(whole, start, "<p >\r\n\t "))).findings.closed());
}

// Found by damaging files: the importer reads past the arrays of these.
TEST_CASE("COLLADA: arrays that are shorter than they say, strides past every array") {
  const TempDir dir;
  const auto refused = [&](const char* name, const std::string& text) {
    CAPTURE(name);
    const std::string line = refusal(dir.file(name, text));
    CHECK_FALSE(line.empty());
    CHECK(line.find('\n') == line.npos);
  };
  const std::string whole = collada_text(box_mesh(), "", "Z_UP");
  REQUIRE(contains(whole, "stride=\"3\""));
  REQUIRE(contains(whole, "count=\"24\""));
  REQUIRE(contains(whole, "count=\"8\""));
  for (const char* stride : {"4", "0", "", "-3", "2147483648", "18446744073709551615", "nan"})
    refused("stride.dae", replaced(whole, "stride=\"3\"", fmt::format("stride=\"{}\"", stride)));
  for (const char* count : {"23", "25", "-1", "", "inf"})
    refused("count.dae", replaced(whole, "count=\"24\"", fmt::format("count=\"{}\"", count)));
  CHECK(contains(refusal(dir.file("long.dae", replaced(whole, "count=\"8\"", "count=\"9\""))),
                 "reads 9 times 3 numbers from number 0 on, and its array holds 24"));
  CHECK(contains(
      refusal(dir.file("shift.dae", replaced(whole, "count=\"8\"", "offset=\"1\" count=\"8\""))),
      "from number 1 on"));
  CHECK(load(dir.file("comment.dae", replaced(whole, "<float_array",
                                              "<!-- <float_array count=\"7\"> -->\n<float_array")))
            .findings.closed());
  CHECK(load(dir.file("quotes.dae", replaced(whole, "count=\"8\"", "count = '8' offset='0'")))
            .findings.closed());
}

TEST_CASE("import: it can be cancelled, and it stops at its time limit") {
  const TempDir dir;
  const auto file = dir.file(
      "slow.dae", collada_text(sheet_mesh(300, 30, [](double x, double y) { return x * y * 0.01; }),
                               "", "Z_UP"));
  RunContext run;
  run.cancelled = [] { return true; };
  load(dir.file("warm.dae", collada_text(box_mesh(), "", "Z_UP")));
  CHECK_THROWS_AS(load_mesh(file, {}, run), Cancelled);
  LoadOptions brief;
  brief.import_timeout_s = 0.01;
  CHECK(contains(refusal(file, brief), "longer than"));
}

TEST_CASE("COLLADA: units that are no length, numbers that are none, more than one unit") {
  const TempDir dir;
  for (const char* metres : {"-0.001", "0", "0,001", "nan", "inf", ""}) {
    CAPTURE(metres);
    CHECK(contains(refusal(dir.file(
                       "u.dae", collada_text(box_mesh(),
                                             fmt::format("<unit meter=\"{}\"/>", metres), "Z_UP"))),
                   "which is no length"));
  }
  const std::string whole = collada_text(box_mesh(), "<unit meter=\"0.001\"/>", "Z_UP");
  CHECK(contains(refusal(dir.file("two.dae", replaced(whole, "<mesh>",
                                                      "<asset><unit meter=\"1\"/></asset><mesh>"))),
                 "more than one unit"));
  for (const char* odd : {"1,010.5", "0x1p-1", "1O"})
    CHECK(contains(
        refusal(dir.file("n.dae", replaced(whole, " 10 0 0 ", fmt::format(" {} 0 0 ", odd)))),
        "which is no number"));
  CHECK(contains(refusal(dir.file("axes.dae", replaced(whole, "name=\"Z\"", "name=\"S\""))),
                 "not X, Y and Z"));
}

TEST_CASE(
    "COLLADA: faces that the file does not hold as announced, or that the import would lose") {
  const TempDir dir;
  const std::string whole = collada_text(box_mesh(), "<unit meter=\"0.001\"/>", "Z_UP");
  const auto refused = [&](const std::string& from, const std::string& to) {
    CAPTURE(to);
    REQUIRE(contains(whole, from));
    return refusal(dir.file("f.dae", replaced(whole, from, to)));
  };
  CHECK(contains(refused("<triangles count=\"12\"", "<triangles count=\"11\""), "announce"));
  CHECK(contains(refused("<triangles count=\"12\"", "<triangles count=\"13\""), "announce"));
  CHECK(contains(refused("<p>0 ", "<p>"), "announce"));
  CHECK(contains(refused("url=\"#g\"", "url=\"#h\""), "which is not there"));
  CHECK(contains(refused("url=\"#g\"", "url=\"other.dae#g\""), "other files"));
  CHECK(contains(refused("<instance_geometry url=\"#g\"/>", ""), "places no mesh"));
  CHECK(contains(refused("<node>", "<node><skew>0 1 0 0 0 1 0</skew>"), "skewed"));
  CHECK(contains(refused("<node>", "<node><scale>1 1 1,5</scale>"), "no number"));
  CHECK(contains(refused("<node>", "<node><scale>1 1</scale>"), "2 numbers instead of 3"));
  CHECK(contains(refused("<node>", "<node><instance_controller url=\"#c\"/>"), "skeletons"));
  CHECK(contains(refused("<node>", "<node id=\"n\"><instance_node url=\"#n\"/>"), "within itself"));
  CHECK(contains(refused("</scene>", ""), "was not begun"));
  // Placed twice, once mirrored, and as polygons.
  const LoadedMesh two = load(
      dir.file("two.dae", replaced(whole, "</node>",
                                   "</node><node><scale>-1 1 1</scale><translate>5 0 0</translate>"
                                   "<instance_geometry url=\"#g\"/></node>")));
  CHECK(two.mesh.triangles.size() == 24);
  CHECK(two.findings.components[1].signed_volume_mm3 == doctest::Approx(160).epsilon(1e-5));
  const std::size_t at = whole.find("<triangles"), end = whole.find("</triangles>");
  std::string twelve = whole, corners, positions;
  for (int i = 0; i < 12; ++i) {
    const double a = i * std::numbers::pi / 6;
    positions += fmt::format("{} {} 0 ", 5 * std::cos(a), 5 * std::sin(a));
    corners += fmt::format("{} ", i);
  }
  twelve.replace(at, end + 12 - at,
                 "<polylist count=\"1\"><input semantic=\"VERTEX\" source=\"#v\" offset=\"0\"/>"
                 "<vcount>12</vcount><p>" +
                     corners + "</p></polylist>");
  const std::size_t list = twelve.find("count=\"24\">"), list_end = twelve.find("</float_array>");
  twelve.replace(list, list_end - list, "count=\"36\">" + positions);
  const LoadedMesh m =
      load(dir.file("twelve.dae", replaced(twelve, "count=\"8\"", "count=\"12\"")));
  CHECK(m.mesh.triangles.size() == 10);
  CHECK(m.findings.area_mm2 == doctest::Approx(75).epsilon(1e-5)); // 3 r^2
}

TEST_CASE("import: one that hands on fewer faces than the file holds is refused") {
  const TempDir dir;
  const auto file =
      dir.file("box.dae", collada_text(box_mesh(), "<unit meter=\"0.001\"/>", "Z_UP"));
  REQUIRE(load(file).mesh.triangles.size() == 12);
  // In place of the import program: a script that sends a box of so many facets.
  const auto answer = [&](std::size_t facets, std::uint32_t corners_of_last) {
    ImportHeader header;
    header.vertices = 8;
    header.faces = facets;
    header.corners = facets * 3 - 3 + corners_of_last;
    header.placed = 1;
    std::string bytes;
    append_raw(bytes, header);
    for (const Vec3& v : box_mesh().vertices)
      append_raw(bytes, v);
    for (std::size_t t = 0; t < facets; ++t)
      for (std::uint32_t k = 0; k < (t + 1 == facets ? corners_of_last : 3); ++k)
        append_raw(bytes, box_mesh().triangles[t][k % 3]);
    for (std::size_t t = 0; t < facets; ++t)
      append_raw(bytes, t + 1 == facets ? corners_of_last : std::uint32_t{3});
    dir.file("answer", bytes);
    const auto script = dir.file(
        "import", fmt::format("#!/bin/sh\ncat '{}' >&3\n", (dir.path() / "answer").string()));
    std::filesystem::permissions(script, std::filesystem::perms::owner_all);
    const std::string real = std::getenv("LEASTWALL_IMPORT");
    ::setenv("LEASTWALL_IMPORT", script.c_str(), 1);
    const std::string line = refusal(file);
    ::setenv("LEASTWALL_IMPORT", real.c_str(), 1);
    return line;
  };
  CHECK(answer(12, 3).empty());
  CHECK(contains(answer(11, 3), "11 faces with 33 corners of the 12 with 36"));
  CHECK(contains(answer(12, 4), "12 faces with 37 corners of the 12 with 36"));
}
