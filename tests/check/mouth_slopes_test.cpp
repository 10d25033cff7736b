// A pocket whose sides slope is wider at its mouth when it is cut too deep.
#include "check/mouth_slopes.h"

#include "check/job_folder.h"
#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <string>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

/// A box that is `lean` wider at its top z = 0 on all sides than at its bottom; closed.
TriMesh leaning(Vec3 low, Vec3 high, double lean) {
  TriMesh mesh = shapes::box(low, high);
  const Vec3 middle = (low + high) * 0.5;
  for (Vec3& v : mesh.vertices)
    if (v.z == high.z) {
      v.x += v.x > middle.x ? lean : -lean;
      v.y += v.y > middle.y ? lean : -lean;
    }
  return mesh;
}

} // namespace

TEST_CASE("slope at the mouth: run over rise of the sides, nothing for upright ones") {
  CHECK(mouth_slope(shapes::box({0, 0, -10}, {20, 20, 0}), std::nullopt) == 0);
  // 3 mm wider over 10 mm: the edge moves 0.3 mm a mm of depth, |m_z| / |m_xy| = 0.3.
  const TriMesh mesh = leaning({0, 0, -10}, {20, 20, 0}, 3);
  CHECK(mouth_slope(mesh, std::nullopt) == Approx(0.3));
  CHECK(mouth_slope(mesh, -4) == Approx(0.3)); // drawn taller than the face
  CHECK(mouth_slope(mesh, 1) == 0);            // ends under it
}

TEST_CASE(
    "a rib between two sloping pockets is not called safe where a wider mouth could fail it") {
  // Sides of 45 degrees, 0.8 mm of wood between the mouths, limit 0.7; touch-offs of 0.2 mm.
  const auto checked = [](double lean, double touch_off, bool one_set_up = false) {
    Folder f;
    f.mesh("skin.stl", shapes::box({-40, -30, -9}, {40, 30, 0}));
    f.mesh("one.stl", leaning({-20 + lean, -10 + lean, -7}, {-lean, 10 - lean, 0}, lean));
    f.mesh("two.stl", leaning({0.8 + lean, -10 + lean, -7}, {20 - lean, 10 - lean, 0}, lean));
    std::string board = kBoard;
    for (std::size_t at = 0; (at = board.find("touch_off = 0.03", at)) != std::string::npos; ++at)
      board.replace(at, 16, fmt::format("touch_off = {}", touch_off));
    return f.checked(board + std::string(R"(
[[part]]
name = "p"
skin = "skin.stl"
[part.placing]
units = "mm"
[[part.pocket]]
name = "one"
mesh = "one.stl"
limit = 0.7
[[part.pocket]]
name = "two"
mesh = "two.stl"
limit = 0.7
)") + (one_set_up ? "" : "[part.pocket.side_a]\n"));
  };
  const auto told = [](const JobResult& r) {
    return std::ranges::any_of(r.report.warnings,
                               [](const Notice& n) { return n.code == "mouth-widens"; });
  };
  const JobResult steep = checked(7, 0.2);
  CHECK(steep.report.wall.verdict == Verdict::unproven);
  CHECK(told(steep));
  CHECK_FALSE(told(checked(7, 0.01))); // 0.03 mm at most
  // In one set-up the floors move alike, and both mouths widen all the same.
  CHECK(checked(7, 0.2, true).report.wall.verdict == Verdict::unproven);
  CHECK(checked(0, 0.2, true).report.wall.verdict == Verdict::safe);
  const JobResult upright = checked(0, 0.2);
  CHECK(upright.report.wall.verdict == Verdict::safe);
  CHECK_FALSE(told(upright));
}
