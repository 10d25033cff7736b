// 3MF files good and bad. Units and transforms: 3MF Consortium, "3D Manufacturing Format Core
// Specification", 1.3. Expected numbers: the box of 10 x 20 x 0.8 has a volume of 160.
#include "support/load_helpers.h"
#include "support/temp_dir.h"
#include "support/zip_files.h"

#include <cmath>

using namespace leastwall;
using namespace leastwall::test;

namespace {

const std::string kItem = "<item objectid=\"1\"/>";

LoadedMesh load_box(const TempDir& dir, const std::string& attributes,
                    const std::string& items = kItem) {
  return load(dir.file("c.3mf", threemf_file(attributes, threemf_object(box_mesh(), 1), items)));
}

} // namespace

TEST_CASE("3MF: the unit is read from the file") {
  const TempDir dir;
  struct {
    const char* attribute;
    double mm;
  } const cases[] = {{"", 1},
                     {"unit=\"millimeter\"", 1},
                     {"unit='inch'", 25.4},
                     {"unit=\"centimeter\"", 10},
                     {"unit = \"micron\"", 0.001},
                     {"unit=\"foot\"", 304.8}, // international foot, exact
                     {"unit=\"meter\"", 1000}};
  for (const auto& c : cases) {
    CAPTURE(c.attribute);
    const LoadedMesh m = load_box(dir, c.attribute);
    CHECK(m.format == "3MF");
    CHECK(m.unit_stated);
    CHECK(m.findings.closed());
    CHECK(m.mesh.vertices.size() == 8);
    CHECK(m.findings.box.size().x == doctest::Approx(10 * c.mm).epsilon(1e-6));
    CHECK(m.findings.components[0].signed_volume_mm3 ==
          doctest::Approx(160 * std::pow(c.mm, 3)).epsilon(1e-6));
    CHECK_FALSE(has_notice(m, "unit-assumed"));
    CHECK_FALSE(has_notice(m, "import-remarks"));
  }
  CHECK(contains(refusal(dir.file(
                     "c.3mf", threemf_file("unit=\"ell\"", threemf_object(box_mesh(), 1), kItem))),
                 "unit \"ell\" is unknown"));
}

TEST_CASE("3MF: transforms are applied; a mirrored item keeps its outside") {
  const TempDir dir;
  const LoadedMesh moved =
      load_box(dir, "", "<item objectid=\"1\" transform=\"2 0 0 0 1 0 0 0 1 100 0 -5\"/>");
  CHECK(moved.findings.box.low.x == doctest::Approx(100));
  CHECK(moved.findings.box.high.x == doctest::Approx(120));
  CHECK(moved.findings.box.low.z == doctest::Approx(-5));
  CHECK(moved.findings.components[0].signed_volume_mm3 == doctest::Approx(320));
  const LoadedMesh mirrored =
      load_box(dir, "", "<item objectid=\"1\" transform=\"-1 0 0 0 1 0 0 0 1 0 0 0\"/>");
  CHECK(mirrored.findings.components[0].signed_volume_mm3 == doctest::Approx(160));
  CHECK(mirrored.findings.box.low.x == doctest::Approx(-10));
  const LoadedMesh two =
      load_box(dir, "", kItem + "<item objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 1 0 0 9\"/>");
  CHECK(two.findings.components.size() == 2);
  CHECK(has_notice(two, "several-pieces"));
}

TEST_CASE("3MF: what is not placed is not used, and said") {
  const TempDir dir;
  const std::string objects =
      threemf_object(box_mesh(), 1) + threemf_object(box_mesh({5, 5, 5}), 2);
  const LoadedMesh m = load(dir.file("c6.3mf", threemf_file("", objects, kItem)));
  CHECK(m.mesh.triangles.size() == 12);
  CHECK(has_notice(m, "not-placed"));
  CHECK(contains(refusal(dir.file("cd.3mf", threemf_file("", objects, ""))), "places no mesh"));
}

TEST_CASE("3MF: archives that are damaged, incomplete or hostile come back as one line") {
  const TempDir dir;
  const std::string object = threemf_object(box_mesh(), 1);
  CHECK(contains(refusal(dir.file("c9.3mf", threemf_file("", object,
                                                         "<item objectid=\"1\" transform=\"1 0 0 0 "
                                                         "1 0 0 0 1\"/>"))),
                 "9 numbers instead of 12"));
  CHECK(contains(refusal(dir.file("ca.3mf", threemf_file("",
                                                         "<object id=\"1\"><components>"
                                                         "<component objectid=\"1\"/>"
                                                         "</components></object>",
                                                         kItem))),
                 "part of itself"));
  CHECK(contains(refusal(dir.file("cc.3mf", threemf_file("xmlns:p=\"production\"", object,
                                                         "<item objectid=\"1\" "
                                                         "p:path=\"/3D/other.model\"/>"))),
                 "other parts"));
  CHECK(contains(refusal(dir.file("ce.3mf", threemf_file("", object, kItem, {6}))), "damaged"));
  const std::string whole = threemf_file("", object, kItem);
  CHECK(contains(refusal(dir.file("cf.3mf", whole.substr(0, whole.size() / 2))), "zip archive"));
  CHECK(contains(refusal(dir.file("cg.3mf", zip_file({{"readme.txt", "no model"}}))),
                 "lacks its model part"));
  CHECK(contains(refusal(dir.file("mesh.zip", whole)), "not a mesh format"));
}

TEST_CASE("3MF: only objects of type model and solidsupport are solid; the others are left out") {
  const TempDir dir;
  const std::string box = threemf_object(box_mesh(), 1);
  const auto other = [](const char* type) {
    return replaced(threemf_object(box_mesh({5, 5, 5}, {0, 0, 50}), 2), "type=\"model\"",
                    fmt::format("type=\"{}\"", type));
  };
  const std::string items = kItem + "<item objectid=\"2\"/>";
  for (const char* type : {"support", "surface", "other"}) {
    CAPTURE(type);
    const LoadedMesh m = load(dir.file("t.3mf", threemf_file("", box + other(type), items)));
    CHECK(m.mesh.triangles.size() == 12);
    CHECK(m.findings.box.high.z == 0.8);
    CHECK(has_notice(m, "not-solid"));
    CHECK_FALSE(has_notice(m, "not-placed"));
    // As a part of an object, and as all that there is.
    const std::string parts = "<object id=\"3\"><components><component objectid=\"1\"/>"
                              "<component objectid=\"2\"/></components></object>";
    const LoadedMesh p = load(
        dir.file("t.3mf", threemf_file("", box + other(type) + parts, "<item objectid=\"3\"/>")));
    CHECK(p.mesh.triangles.size() == 12);
    CHECK(has_notice(p, "not-solid"));
    CHECK(contains(
        refusal(dir.file("t.3mf", threemf_file("", other(type), "<item objectid=\"2\"/>"))),
        "of type support, surface or other"));
  }
  const LoadedMesh solid =
      load(dir.file("t.3mf", threemf_file("", box + other("solidsupport"), items)));
  CHECK(solid.mesh.triangles.size() == 24);
  CHECK_FALSE(has_notice(solid, "not-solid"));
  CHECK(contains(refusal(dir.file("t.3mf", threemf_file("", box + other("wax"), items))),
                 "type \"wax\" is unknown"));
}

TEST_CASE("3MF: build items that are not printable are left out, and said") {
  const TempDir dir;
  const std::string objects =
      threemf_object(box_mesh(), 1) + threemf_object(box_mesh({5, 5, 5}), 2);
  for (const char* no : {"0", "false"}) {
    const std::string item = fmt::format("<item objectid=\"2\" printable=\"{}\"/>", no);
    const LoadedMesh m = load(dir.file("p.3mf", threemf_file("", objects, kItem + item)));
    CHECK(m.mesh.triangles.size() == 12);
    CHECK(has_notice(m, "not-printable"));
    CHECK_FALSE(has_notice(m, "not-placed"));
    CHECK(contains(refusal(dir.file("p.3mf", threemf_file("", objects, item))), "not printable"));
  }
  const LoadedMesh both = load(dir.file(
      "p.3mf", threemf_file("", objects, kItem + "<item objectid=\"2\" printable=\"1\"/>")));
  CHECK(both.mesh.triangles.size() == 24);
  CHECK_FALSE(has_notice(both, "not-printable"));
}

TEST_CASE("3MF: attributes of other namespaces do not pass for its own") {
  const TempDir dir;
  for (const char* attributes : {"xmlns:x=\"x\" x:unit=\"inch\" unit=\"centimeter\"",
                                 "xmlns:x=\"x\" unit=\"centimeter\" x:unit=\"inch\""}) {
    const LoadedMesh m = load_box(dir, attributes);
    CHECK(m.unit == "centimetre");
    CHECK(m.findings.box.size().x == doctest::Approx(100));
  }
  CHECK(load_box(dir, "xmlns:x=\"x\" x:unit=\"inch\"").unit == "millimetre");
  const LoadedMesh moved =
      load_box(dir, "xmlns:x=\"x\"",
               "<item x:objectid=\"7\" objectid=\"1\" x:transform=\"2 0 0 0 1 0 0 0 1 0 0 0\"/>");
  CHECK(moved.findings.box.size().x == 10);
}

TEST_CASE("3MF: components within components, placed and mirrored") {
  const TempDir dir;
  // Object 2: the box and a mirrored one beside it; object 3: twice object 2, the second raised.
  const std::string objects =
      threemf_object(box_mesh(), 1) +
      "<object id=\"2\"><components><component objectid=\"1\"/><component objectid=\"1\" "
      "transform=\"-1 0 0 0 1 0 0 0 1 -5 0 0\"/></components></object>"
      "<object id=\"3\"><components><component objectid=\"2\"/><component objectid=\"2\" "
      "transform=\"1 0 0 0 1 0 0 0 1 0 0 4\"/></components></object>";
  const LoadedMesh m =
      load(dir.file("n.3mf", threemf_file("", objects,
                                          "<item objectid=\"3\" transform=\"0 1 0 -1 0 0 0 0 1 "
                                          "100 0 0\"/>")));
  CHECK(m.mesh.triangles.size() == 48);
  CHECK(m.findings.components.size() == 4);
  for (const MeshComponent& piece : m.findings.components)
    CHECK(piece.signed_volume_mm3 == doctest::Approx(160));
  // x becomes y, y becomes -x: the boxes reach from x = -15 to 10, y = 0 to 20.
  CHECK(m.findings.box.low.x == 80);
  CHECK(m.findings.box.high.x == 100);
  CHECK(m.findings.box.low.y == -15);
  CHECK(m.findings.box.high.y == 10);
  CHECK(m.findings.box.high.z == doctest::Approx(4.8));
}

TEST_CASE("3MF: numbers that are none, elements out of place, extensions that are needed") {
  const TempDir dir;
  const std::string object = threemf_object(box_mesh(), 1);
  const auto refused = [&](const std::string& from, const std::string& to) {
    CAPTURE(to);
    REQUIRE(contains(object, from));
    return refusal(dir.file("b.3mf", threemf_file("", replaced(object, from, to), kItem)));
  };
  for (const char* odd : {"1,010.5", "0x1p-1", "1O", "nan", "1e999", "", " 10"})
    CHECK(contains(refused("x=\"10\"", fmt::format("x=\"{}\"", odd)), "which is no number"));
  CHECK(contains(refused("x=\"10\"", "q:x=\"10\""), "<vertex> lacks \"x\""));
  CHECK(contains(refused("v1=\"0\"", "v1=\"8\""), "names vertex 8 of 8"));
  CHECK(contains(refused("v1=\"0\"", "v1=\"-1\""), "no whole number"));
  CHECK(contains(refused("v1=\"0\"", ""), "lacks \"v1\""));
  CHECK(contains(refused("<vertices>", ""), "stands outside <vertices>"));
  CHECK(contains(refused("</triangles>", ""), "ends where it was not begun"));
  CHECK(contains(refused("<mesh>", "<mesh><b:beamlattice/>"), "beams"));
  // Comments and data of others hold no facets.
  CHECK(refused("<vertices>", "<!-- <vertex x=\"0\"/> --><vertices><![CDATA[<vertex/>]]>").empty());
  CHECK(contains(refusal(dir.file("b.3mf", threemf_file("", object, "<item objectid=\"2\"/>"))),
                 "object 2, which does not stand before"));
  CHECK(contains(refusal(dir.file("b.3mf", threemf_file("", object + object, kItem))),
                 "two objects of number 1"));
  CHECK(contains(refusal(dir.file("b.3mf", threemf_file("", object + "<object id=\"2\"/>", kItem))),
                 "neither a mesh nor components"));
  CHECK(contains(refusal(dir.file("b.3mf", threemf_file("", object,
                                                        "<item objectid=\"1\" transform=\"1 0 0 0 "
                                                        "1 0 0 0 0 0 0 0\"/>"))),
                 "flattens the mesh"));
  const auto needs = [&](const char* space) {
    return refusal(
        dir.file("b.3mf", threemf_file(fmt::format("requiredextensions=\"q\" xmlns:q=\"http://"
                                                   "schemas.microsoft.com/3dmanufacturing/{}\"",
                                                   space),
                                       object, kItem)));
  };
  CHECK(needs("material/2015/02").empty());
  CHECK(contains(needs("beamlattice/2017/02"), "needs the extension"));
  CHECK(contains(needs("anything/2030/01"), "needs the extension"));
}
