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
                 "import"));
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
