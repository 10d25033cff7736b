// Sensitivities against meshes that are really moved and measured again.
//
// Plain geometry gives bounds that hold for any surface. With p a skin point, q its nearest pocket
// point at distance d along n, and the skin moved by D: q is still there, so
//   d' <= |p + D - q| <= d + n.D + |D|^2 / (2 d),
// and the same seen from the new nearest point, with its direction n' and distance d',
//   d' >= d + n'.D - |D|^2 / (2 d').
// Where the nearest point does not jump, n' = n to first order: the first-order change n.D is off
// by no more than the second-order remainder.
#include "base/assumption.h"
#include "causes/causes.h"
#include "mesh/load/load_mesh.h"
#include "wall/sampling/wall_probe.h"
#include "wall/surface/machined_surface.h"

#include <cmath>
#include <doctest/doctest.h>
#include <filesystem>
#include <functional>

using namespace leastwall;

namespace {

struct Demo {
  TriMesh pocket, skin;
  static const Demo& gourd() {
    static const Demo demo = [] {
      const std::filesystem::path meshes = std::filesystem::path(LEASTWALL_SOURCE_DIR) / "meshes";
      const TriMesh pocket = load_mesh(meshes / "gourd_pocket.stl", {}, {}).mesh;
      const TriMesh skin = load_mesh(meshes / "gourd_skin.stl", {}, {}).mesh;
      const PocketFace face{0.0, true, ""};
      return Demo{machined_surface(pocket, face).mesh, machined_surface(skin, face).mesh};
    }();
    return demo;
  }
};

const Cause& cause_with(const std::vector<Cause>& causes, CauseKind kind, Side side) {
  for (const Cause& c : causes)
    if (c.id.kind == kind && (!c.id.side || *c.id.side == side))
      return c;
  throw std::runtime_error("no such cause");
}

struct Outcome {
  std::size_t asked = 0, first_order_right = 0;
};

/// Moves every skin point as `move` says (relative to the pocket), measures again and compares with
/// the change that the cause predicts for error e.
Outcome compare(const std::function<double(const WallSample&)>& sensitivity, double e,
                const std::function<Vec3(Vec3)>& move) {
  const Demo& demo = Demo::gourd();
  const ClosestSurface pocket(demo.pocket);
  Outcome outcome;
  for (std::size_t i = 0; i < demo.skin.vertices.size(); i += 31) {
    const Vec3 p = demo.skin.vertices[i], moved = move(p), shift = moved - p;
    const SurfaceHit before = pocket.nearest(p), after = pocket.nearest(moved);
    if (before.distance < 0.1 || after.distance < 0.1)
      continue;
    const Vec3 n = unit(p - before.point), n_after = unit(moved - after.point);
    const double change = after.distance - before.distance;
    const double predicted = sensitivity({p, n, before.distance}) * e;
    const double second = length_squared(shift) / (2 * std::min(before.distance, after.distance));
    // The sensitivity is n.D; the bounds are exact.
    REQUIRE(std::abs(predicted - dot(n, shift)) <= 1e-6 + 0.01 * second);
    REQUIRE(change <= predicted + second * 1.01 + 1e-6);
    REQUIRE(change >= dot(n_after, shift) - second * 1.01 - 1e-6);
    ++outcome.asked;
    // Facets turn the direction a little from one to the next; 0.002 mm of 0.05 allows for that.
    outcome.first_order_right += std::abs(change - predicted) <= second + 0.002;
  }
  return outcome;
}

void check(const Outcome& outcome) {
  CHECK(outcome.asked > 700);
  CHECK(outcome.first_order_right >= outcome.asked * 97 / 100);
}

Setup base() {
  Setup setup;
  setup.board.footprint = Footprint{{-120, -65}, {120, 65}};
  setup.board.assumed_thickness_mm = 45;
  setup.inner.touch_point = setup.outer.touch_point = Point2{-108, -56};
  return setup;
}

} // namespace

TEST_CASE("a touch-off moves one surface straight along z") {
  Setup setup = base();
  setup.inner.touch_off = setup.outer.touch_off = {0.05, Knowledge::limits};
  std::vector<Assumption> assumptions;
  const auto causes = causes_of(setup, assumptions);
  for (const double e : {0.05, -0.05}) {
    // Side A too shallow by e leaves the pocket e higher: the skin lies e lower against it.
    check(compare(cause_with(causes, CauseKind::touch_off, Side::a).sensitivity, e, [e](Vec3 p) {
      return p - Vec3{0, 0, e};
    }));
    // Side B too shallow by e leaves the skin e further down in the model.
    check(compare(cause_with(causes, CauseKind::touch_off, Side::b).sensitivity, e, [e](Vec3 p) {
      return p - Vec3{0, 0, e};
    }));
  }
}

TEST_CASE("a flip line off by d shifts the skin by twice d across the line") {
  for (const FlipLine line : {FlipLine::along_y, FlipLine::along_x}) {
    Setup setup = base();
    setup.flip.line = line;
    setup.flip.located_by = LocatedBy::edges;
    setup.flip.line_error = {0.05, Knowledge::limits};
    std::vector<Assumption> assumptions;
    const auto causes = causes_of(setup, assumptions);
    const Cause& cause = cause_with(causes, CauseKind::flip_line, Side::b);
    const double e = 0.03;
    // Which way counts as positive is the cause's own; one of the two signs must fit everywhere.
    const Vec3 across = line == FlipLine::along_y ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
    const WallSample sideways{{0, 0, -20}, across};
    const double sign = cause.sensitivity(sideways) > 0 ? 1 : -1;
    check(compare(cause.sensitivity, e, [&](Vec3 p) { return p + across * (2 * e * sign); }));
  }
}

TEST_CASE("a larger ball and sanding act along the wall as their sensitivities say") {
  Setup setup = base();
  setup.inner.bit.radius = {0.05, Knowledge::limits};
  setup.outer.sanding_mm = 0.05;
  std::vector<Assumption> assumptions;
  const auto causes = causes_of(setup, assumptions);
  // A ball larger by dR whose tip is touched off cuts an offset surface dR further out and dR
  // higher: nothing at the bottom of a form, dR in full on an upright wall (ball ends,
  // plain geometry): -(1 - |n_z|) dR.
  const Cause& radius = cause_with(causes, CauseKind::ball_radius, Side::a);
  for (const double slope_deg : {0.0, 30.0, 60.0, 90.0}) {
    const double a = slope_deg * 3.14159265358979 / 180;
    const WallSample p{{0, 0, -20}, {std::sin(a), 0, -std::cos(a)}, 1.0};
    CHECK(radius.sensitivity(p) == doctest::Approx(-(1 - std::cos(a))).epsilon(1e-9));
  }
  const Cause& sanding = cause_with(causes, CauseKind::sanding, Side::b);
  const Demo& demo = Demo::gourd();
  const ClosestSurface pocket(demo.pocket);
  // Sanded along the wall's own direction: the wall loses what is taken, to the last bit.
  for (std::size_t i = 0; i < demo.skin.vertices.size(); i += 997) {
    const Vec3 p = demo.skin.vertices[i];
    const SurfaceHit hit = pocket.nearest(p);
    if (hit.distance < 0.1)
      continue;
    const Vec3 n = unit(p - hit.point);
    const double change = pocket.nearest(p - n * 0.05).distance - hit.distance;
    REQUIRE(sanding.size == 0.05);
    REQUIRE(change ==
            doctest::Approx(sanding.sensitivity({p, n, hit.distance}) * 0.05).epsilon(1e-6));
  }
}
