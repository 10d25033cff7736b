// Open edges: what is looked at is bounded, whatever lies in one place.
#include "wall/surface/open_runs.h"

#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>
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
