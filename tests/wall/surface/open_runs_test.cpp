// Open edges: what is looked at is bounded, whatever lies in one place.
#include "wall/surface/open_runs.h"

#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <functional>
#include <numbers>
#include <random>

using namespace leastwall;

namespace {

TriMesh plate() {
  return shapes::sheet({-40, 40}, {-40, 40}, 10, 10, [](double, double) { return -5.0; });
}

void add_facet(TriMesh& to, Vec3 a, Vec3 b, Vec3 c) {
  const auto i = static_cast<std::uint32_t>(to.vertices.size());
  to.vertices.insert(to.vertices.end(), {a, b, c});
  to.triangles.push_back({i, i + 1, i + 2});
}

/// A sheet of cells of 8 by 8 mm without the four cells round 0, 0.
TriMesh with_hole(const std::function<double(double, double)>& z) {
  TriMesh out = shapes::sheet({-40, 40}, {-40, 40}, 10, 10, z);
  std::erase_if(out.triangles, [&](const Tri& t) {
    return std::ranges::all_of(t, [&](std::uint32_t v) {
      return std::max(std::abs(out.vertices[v].x), std::abs(out.vertices[v].y)) < 8.5;
    });
  });
  return out;
}

/// `n` loose facets of a few micrometres within 0.2 mm.
TriMesh with_dust(int n) {
  std::mt19937 draw(3);
  const auto in = [&](double most) {
    return std::uniform_real_distribution<double>(-most, most)(draw);
  };
  TriMesh out = plate();
  for (int i = 0; i < n; ++i) {
    const Vec3 at{in(0.1), in(0.1), -5 + in(0.01)};
    const auto near = [&] { return at + Vec3{in(0.003), in(0.003), in(0.003)}; };
    add_facet(out, near(), near(), near());
  }
  return out;
}

} // namespace

TEST_CASE("dust in one place ends by a count and is said to be not looked at") {
  CHECK(open_runs(with_dust(200), {}).looked_at);
  const OpenRuns many = open_runs(with_dust(20'000), {});
  CHECK_FALSE(many.looked_at); // 60,000 edges, each beside all others: 3.6 thousand million looks
  CHECK(many.holes.empty());
}

TEST_CASE("a slit between loose facets is found, or it is said that it was not looked for") {
  // 1.6 mm between y -0.8 and 0.8, 50 mm long; the loose facets lie along it, first in the file.
  const auto with_facets = [](int in_each_mm) {
    TriMesh out;
    for (int i = 0; i < 40 * in_each_mm; ++i) {
      const double x = -20.0 + (i + 0.5) / in_each_mm;
      add_facet(out, {x, -0.3, -5}, {x + 1e-4, -0.3, -5}, {x, -0.2999, -5});
    }
    const auto quad = [&](double x0, double x1, double y0, double y1) {
      add_facet(out, {x0, y0, -5}, {x1, y0, -5}, {x1, y1, -5});
      add_facet(out, {x0, y0, -5}, {x1, y1, -5}, {x0, y1, -5});
    };
    quad(-25, 25, -40, -0.8);
    quad(-25, 25, 0.8, 40);
    return open_runs(out, {});
  };
  const OpenRuns bare = with_facets(0);
  CHECK(bare.looked_at);
  REQUIRE(bare.holes.size() == 1);
  CHECK(bare.holes[0].across_mm == doctest::Approx(1.6));
  const OpenRuns some = with_facets(25);
  CHECK(some.looked_at);
  CHECK(some.holes.size() == 1);
  CHECK_FALSE(with_facets(400).looked_at);
}

TEST_CASE("a slit between outlines of very short edges is found") {
  const auto strip = [](double y0, double y1) { // 0.01 mm edges along the slit
    return shapes::sheet({0, 30}, {y0, y1}, 3000, 1, [](double, double) { return -5.0; });
  };
  TriMesh both = strip(0.5, 30);
  const TriMesh other = strip(-30, -0.5);
  const auto first = static_cast<std::uint32_t>(both.vertices.size());
  both.vertices.insert(both.vertices.end(), other.vertices.begin(), other.vertices.end());
  for (const Tri& t : other.triangles)
    both.triangles.push_back({first + t[0], first + t[1], first + t[2]});
  const OpenRuns runs = open_runs(both, {});
  CHECK(runs.looked_at);
  REQUIRE(runs.holes.size() == 1);
  CHECK(runs.holes[0].across_mm == doctest::Approx(1.0));
}

TEST_CASE("an outline of many short edges is looked at and is no hole") {
  // A disc of 40,000 rim edges of 0.006 mm, round a middle ring.
  TriMesh disc;
  constexpr std::uint32_t n = 40'000;
  for (const double r : {40.0, 39.9})
    for (std::uint32_t i = 0; i < n; ++i) {
      const double a = 2 * std::numbers::pi * i / n;
      disc.vertices.push_back({r * std::cos(a), r * std::sin(a), -5});
    }
  disc.vertices.push_back({0, 0, -5});
  for (std::uint32_t i = 0; i < n; ++i) {
    const std::uint32_t next = (i + 1) % n;
    disc.triangles.push_back({i, next, n + i});
    disc.triangles.push_back({next, n + next, n + i});
    disc.triangles.push_back({n + i, n + next, 2 * n});
  }
  const OpenRuns runs = open_runs(disc, {});
  CHECK(runs.looked_at);
  CHECK(runs.holes.empty());
}

TEST_CASE("a hole in a slope of the pocket is a hole, the flat top of an island is none") {
  OpenRunsAsked pocket;
  pocket.pocket = true;
  const TriMesh slope = with_hole([](double x, double) { return -10 + 0.3 * x; });
  const OpenRuns in_slope = open_runs(slope, pocket);
  CHECK(in_slope.looked_at);
  REQUIRE(in_slope.holes.size() == 1);
  CHECK(in_slope.holes[0].edges.size() == 8);
  CHECK(in_slope.holes[0].across_mm == doctest::Approx(16));
  CHECK(in_slope.holes[0].box.high.z == doctest::Approx(-10 + 0.3 * 8));
  // A hill: all facets fall from where it ends at the top. In the skin that is a hole, too.
  const TriMesh hill =
      with_hole([](double x, double y) { return -3 - 0.3 * std::max(std::abs(x), std::abs(y)); });
  CHECK(open_runs(hill, pocket).holes.empty());
  CHECK(open_runs(hill, {}).holes.size() == 1);
}

TEST_CASE("a slit between two edges longer than it is wide is told, wherever they lie") {
  for (const Vec3 at : {Vec3{0, 0, -5}, Vec3{30, -70, -20}}) {
    CAPTURE(at.y);
    // Two plates of two facets each, 2 mm apart along 80 mm.
    TriMesh plates;
    for (const double x : {-41.0, 1.0}) {
      const Vec3 a = at + Vec3{x, -30, 0}, b = at + Vec3{x + 40, -30, 0};
      const auto i = static_cast<std::uint32_t>(plates.vertices.size());
      plates.vertices.insert(plates.vertices.end(), {a, b, b + Vec3{0, 80, 0}, a + Vec3{0, 80, 0}});
      plates.triangles.insert(plates.triangles.end(), {{i, i + 1, i + 2}, {i, i + 2, i + 3}});
    }
    const OpenRuns runs = open_runs(plates, {});
    CHECK(runs.looked_at);
    REQUIRE(runs.holes.size() == 1);
    CHECK(runs.holes[0].across_mm == doctest::Approx(2));
    const Box& box = runs.holes[0].box; // along the middle of the gap, from end to end
    CHECK(box.low.x == doctest::Approx(at.x));
    CHECK(box.high.x == doctest::Approx(at.x));
    CHECK(box.high.z - box.low.z == doctest::Approx(0));
    CHECK(box.low.y < at.y - 30 + kSlit_mm);
    CHECK(box.high.y > at.y + 50 - kSlit_mm);
  }
}
