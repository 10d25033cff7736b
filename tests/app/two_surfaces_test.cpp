// Places that only the pocket sees, in everything that the program says of them.
#include "app/small_piece.h"

#include <nlohmann/json.hpp>
#include <numbers>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

TriMesh swept(const std::vector<std::array<double, 2>>& section, double half_length) {
  TriMesh mesh;
  for (const auto& p : section) {
    mesh.vertices.push_back({p[0], -half_length, p[1]});
    mesh.vertices.push_back({p[0], half_length, p[1]});
  }
  for (std::uint32_t i = 0; i + 1 < section.size(); ++i) {
    mesh.triangles.push_back({2 * i, 2 * i + 2, 2 * i + 3});
    mesh.triangles.push_back({2 * i, 2 * i + 3, 2 * i + 1});
  }
  return mesh;
}

const char* const kJob = R"(limit = 0.68
[board]
thickness = 20
measured = 20
pocket_face_z = 0
corner = [-60, -40]
size = [120, 80]
[side_a]
zero = "top"
touch_point = [-50, -35]
touch_off = 0.01
plate_error = -0.4
[side_b]
zero = "top"
touch_point = [-50, -35]
touch_off = 0.01
[flip]
line = "along y"
at = 0
located_by = "dowels"
[flip.dowels]
spacing = 70
clearance = 0
[[part]]
skin = "s.stl"
[part.placing]
units = "mm"
[[part.pocket]]
mesh = "p.stl"
)";

} // namespace

TEST_CASE("a groove over a rib, cut 0.4 too deep: thinnest place, table and regions follow") {
  // Closed form: the groove's apex at x = 0, z = -11.02 lies 1.02 under the rib's top; a pocket 0.4
  // too deep leaves 0.62, where the sides of the rib beside the apex keep theirs. Touch-offs of
  // +-0.01 a side on a wall that lies flat take 0.02 more.
  const double w = 2.48 * std::tan(std::numbers::pi / 12);
  const TempDir folder;
  folder.file("p.stl",
              binary_stl(swept(
                  {{-30, -11.3}, {-1, -11.3}, {-1, -10}, {1, -10}, {1, -11.3}, {30, -11.3}}, 20)));
  folder.file("s.stl", binary_stl(swept(
                           {{-28, -13.5}, {-w, -13.5}, {0, -11.02}, {w, -13.5}, {28, -13.5}}, 18)));
  const auto job = folder.file("job.toml", kJob);
  const RunResult r = leastwall_program({"check", job.string(), "--json", "-"});
  INFO(r.err);
  REQUIRE(r.status == 1);
  const auto j = nlohmann::json::parse(r.out);
  CHECK(j.at("verdict") == "thin");
  const auto& least = j.at("least_wall");
  CHECK(least.at("expected_mm").get<double>() == Approx(0.62).epsilon(1e-4));
  CHECK(least.at("worst_mm").get<double>() == Approx(0.60).epsilon(1e-4));
  CHECK(least.at("straight_down_mm").get<double>() == Approx(1.02).epsilon(1e-4));
  CHECK(least.at("at_mm").at(0).get<double>() == Approx(0).epsilon(1e-4));
  CHECK(least.at("at_mm").at(2).get<double>() == Approx(-11.02).epsilon(1e-4));
  // One place along the groove, not one for every point of it.
  REQUIRE(j.at("regions").size() == 1);
  CHECK(j.at("regions").at(0).at("least_wall_mm").get<double>() == Approx(0.62).epsilon(1e-4));
  CHECK(j.at("chance").at("under_limit").get<double>() == 1.0);
}

TEST_CASE("the thinnest place, expected and at worst, is the same at every limit") {
  // A pin 0.9 mm over the middle of a wide face: touch-offs of +-0.05 and a bed within 0.1 mm on
  // either side take 0.3 at worst, straight down.
  const SmallPiece piece(0.9);
  for (const char* limit : {"0.05", "0.2", "0.55", "0.88", "1.5"}) {
    const RunResult r = leastwall_program({"check", "--pocket", piece.pocket.string(), "--skin",
                                           piece.skin.string(), "--limit", limit, "--z-zero",
                                           "0.05", "--bed-flatness", "0.1", "--json", "-"});
    const auto j = nlohmann::json::parse(r.out);
    INFO(limit);
    CHECK(j.at("least_wall").at("expected_mm").get<double>() == Approx(0.9).epsilon(1e-5));
    CHECK(j.at("least_wall").at("worst_mm").get<double>() == Approx(0.6).epsilon(1e-5));
    CHECK(j.at("measured_to_mm").get<double>() >= 0.9 + 0.3);
  }
}
