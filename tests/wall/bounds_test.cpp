// Odd pairs take no more work than plain ones of their size: counted in steps of searches, cells
// and splits (never in seconds), and what a bound leaves open is told.
#include "wall/sampling/measure_bounds.h"

#include "base/errors.h"
#include "support/build_kind.h"
#include "support/random_shapes.h"
#include "support/shapes.h"
#include "wall/least/depth_search.h"
#include "wall/least/least_wall.h"
#include "wall/left_open.h"
#include "wall/measure_wall.h"
#include "wall/sheet_probe.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>
#include <random>
#include <string>
#include <tbb/global_control.h>

using namespace leastwall;
using namespace leastwall::shapes;
using leastwall::test::by_build;

namespace {

MeasureOptions plain() {
  MeasureOptions o;
  o.ceiling_mm = 1.2;
  o.above_least_mm = 0.5;
  o.land = true;
  o.pocket_map = false;
  return o;
}

/// A half gourd-like bowl of `n` x `n` quads, 160 x 90 x 40 mm, rim at z = 0, closed by a lid.
TriMesh bowl(int n, double thicker) {
  TriMesh m =
      shapes::sheet({0, 2 * std::numbers::pi}, {0, 1}, n, n, [](double, double) { return 0.0; });
  for (Vec3& v : m.vertices) {
    const double turn = v.x, down = v.y * std::numbers::pi / 2;
    const double rib = 1 + 0.05 * std::cos(9 * turn) * std::sin(2 * down);
    v = {(80 * rib + thicker) * std::cos(turn) * std::cos(down),
         (45 * rib + thicker) * std::sin(turn) * std::cos(down),
         -(40 * rib + thicker) * std::sin(down)};
  }
  return m;
}

TriMesh without(TriMesh m, double share, unsigned seed) {
  std::mt19937 random(seed);
  std::bernoulli_distribution lost(share);
  std::erase_if(m.triangles, [&](const Tri&) { return lost(random); });
  return m;
}

TriMesh with_stray(TriMesh m, Vec3 at) {
  m.vertices[m.vertices.size() / 2] = at;
  return m;
}

std::uint64_t facets(const TriMesh& a, const TriMesh& b) {
  return a.triangles.size() + b.triangles.size();
}

} // namespace

TEST_CASE("odd pairs take no more than a few times the work of the plain pair") {
  const int n = by_build(40, 24);
  const TriMesh pocket = bowl(n, 0), skin = bowl(n, 1.5);
  const Vec3 x_up{1, -1, -1};
  const auto upside_down = [&](TriMesh m) {
    for (Vec3& v : m.vertices)
      v = {v.x * x_up.x, v.y * x_up.y, v.z * x_up.z};
    return m;
  };
  struct Pair {
    std::string name;
    TriMesh pocket, skin;
    bool as_plain; ///< hardly more work than the plain pair; else bounded only
  };
  const std::vector<Pair> pairs = {
      {"plain", pocket, skin, true},
      {"both in inches", shapes::scaled(pocket, 1 / 25.4), shapes::scaled(skin, 1 / 25.4), true},
      {"a skin of inches", pocket, shapes::scaled(skin, 1 / 25.4), true},
      {"a large skin", pocket, shapes::scaled(skin, 25.4), true},
      {"a stray corner sideways", with_stray(pocket, {1e5, 0, -5}), skin, true},
      {"a stray corner far away", with_stray(pocket, {1e6, 1e6, 1e6}), skin, true},
      {"a hundredth of the facets missing", without(pocket, 0.01, 1), without(skin, 0.01, 2), true},
      {"a twentieth of the facets missing", without(pocket, 0.05, 3), without(skin, 0.05, 4), true},
      {"inches taken for mm", shapes::scaled(pocket, 25.4), skin, false},
      {"a stray corner of the skin", pocket, with_stray(skin, {1e5, 1e5, -1e5}), false},
      {"both upside down", upside_down(pocket), upside_down(skin), false},
  };
  // Wide enough for a test: what is counted grows with the square of it.
  MeasureOptions options = plain();
  options.fine_spacing_mm = 1;
  std::uint64_t plain_steps = 0;
  for (const Pair& pair : pairs) {
    CAPTURE(pair.name);
    const WallMeasurement m = measure_wall(pair.pocket, pair.skin, options, {});
    CAPTURE(m.work.steps);
    CAPTURE(m.work.cells);
    CAPTURE(m.work.divided);
    CAPTURE(m.work.pairs);
    const std::uint64_t size = facets(pair.pocket, pair.skin);
    if (plain_steps == 0)
      plain_steps = m.work.steps;
    CHECK(m.work.steps > 0);
    if (pair.as_plain) {
      CHECK_FALSE(m.left_open.any());
      CHECK(m.work.steps < 12 * plain_steps);
    }
    // Each of the four stages ends within twice its bound.
    CHECK(m.work.steps < 8 * max_steps(size));
    CHECK(m.work.cells <= max_skin_cells(size));
    CHECK(m.work.divided <= 2 * max_divided(size));
    CHECK(left_open_findings(m, {0.8, 0.3, false}).empty() != m.left_open.any());
  }
}

TEST_CASE("a refinement that is ended tells the longest edge that it left") {
  const TriMesh here = shapes::sheet({0, 10}, {0, 10}, 4, 4, [](double, double) { return 0.0; });
  const TriMesh there = shapes::sheet({0, 10}, {0, 10}, 90, 90, [](double x, double y) {
    return 0.5 + 0.05 * std::sin(9 * x) * std::cos(8 * y);
  });
  const SheetProbe asked(there);
  RefineOptions options;
  options.fine_spacing_mm = 0.1;
  const RefinedMap whole = refine(refine_start(here, options, {}), asked.probe, options, {});
  CHECK(whole.unsplit_mm == 0);
  CHECK(whole.map.cells.size() > 10000);
  CHECK(whole.steps > whole.map.samples.size());
  for (const std::size_t most : {32U, 100U, 1000U, 9999U}) {
    options.max_cells = most;
    const RefinedMap part = refine(refine_start(here, options, {}), asked.probe, options, {});
    CHECK(part.map.cells.size() <= most);
    CHECK(part.map.cells.size() > most * 9 / 10 - 4);
    double longest2 = 0;
    for (const Tri& t : part.map.cells)
      for (std::size_t i = 0; i < 3; ++i)
        longest2 = std::max(longest2, length_squared(part.map.samples[t[i]].at -
                                                     part.map.samples[t[(i + 1) % 3]].at));
    // An edge that was left may have been cut by what was done beside it, never the other way.
    CHECK(part.unsplit_mm >= std::sqrt(longest2) * (1 - 1e-12));
    CHECK(part.unsplit_mm <= 2.01 * std::sqrt(longest2));
    CHECK(part.unsplit_mm > options.fine_spacing_mm);
  }
  options.max_cells = std::numeric_limits<std::size_t>::max();
  options.max_steps = 1;
  const RefinedMap none = refine(refine_start(here, options, {}), asked.probe, options, {});
  CHECK(none.map.cells.size() == here.triangles.size());
  CHECK(none.unsplit_mm == doctest::Approx(2.5 * std::numbers::sqrt2));
}

TEST_CASE("cones of one fan each are measured without more cells than their area asks for") {
  const auto fan = [](std::uint32_t n, double radius, double z) {
    TriMesh m;
    m.vertices.push_back({0, 0, z});
    for (std::uint32_t i = 0; i < n; ++i) {
      const double turn = 2 * std::numbers::pi * i / n;
      m.vertices.push_back({radius * std::cos(turn), radius * std::sin(turn), 0});
      m.triangles.push_back({0, 1 + i, 1 + (i + 1) % n});
    }
    return m;
  };
  MeasureOptions options = plain();
  options.ceiling_mm = 1;
  options.above_least_mm.reset();
  for (const std::uint32_t n : {500U, by_build(5000U, 1500U)}) {
    const TriMesh pocket = fan(n, 40, -10), skin = fan(n, 42, -11);
    const WallMeasurement m = measure_wall(pocket, skin, options, {});
    CAPTURE(m.work.steps);
    CHECK(m.work.cells < 1'300'000);
    CHECK(m.work.steps < 3 * max_steps(2 * n));
    if (n == 500) { // a shape that programs do make: nothing is left open
      CHECK(m.work.cells < 400'000);
      CHECK_FALSE(m.left_open.any());
    }
  }
}

TEST_CASE("needles across one another are refused, not measured for hours") {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> turn(0, std::numbers::pi), in(-20, 20);
  const auto needles = [&](double z) {
    TriMesh m;
    for (std::uint32_t i = 0; i < 5000; ++i) {
      const double a = turn(random);
      const Vec3 at{in(random), in(random), z}, along{50 * std::cos(a), 50 * std::sin(a), 0},
          across{-0.01 * std::sin(a), 0.01 * std::cos(a), 0};
      m.vertices.insert(m.vertices.end(), {at - along, at + along, at + across});
      m.triangles.push_back({3 * i, 3 * i + 1, 3 * i + 2});
    }
    return m;
  };
  if (by_build(true, false))
    CHECK_THROWS_WITH_AS(measure_wall(needles(-3), needles(-4), plain(), {}),
                         doctest::Contains("evenly shaped facets"), InputError);
}

TEST_CASE("plates of few large facets take few cells, however thin all of it is") {
  const TriMesh pocket = shapes::box({-100, -70, -5}, {100, 70, 0});
  const TriMesh skin = shapes::box({-101, -71, -6}, {101, 71, 0});
  const WallMeasurement m = measure_wall(pocket, skin, plain(), {});
  CHECK(m.least.wall_mm == doctest::Approx(1).epsilon(1e-12));
  CHECK_FALSE(m.left_open.any());
  CHECK(m.work.cells < 300'000); // every place is under the ceiling: at its spacing over 4 million
}

TEST_CASE("a search for the least wall that is ended bounds it from both sides") {
  for (unsigned seed = 1; seed <= by_build(12u, 4u); ++seed) {
    const TriMesh pocket = bumpy_sheet(seed, 40, 20, -3, 0.5);
    const TriMesh skin = bumpy_sheet(seed + 70, 40, 20, -8, 0.5);
    const SheetProbe asked(pocket);
    const RefinedMap map =
        refine(refine_start(skin, RefineOptions{}, {}), asked.probe, RefineOptions{}, {});
    const LeastPair whole = least_pair(map.map, asked.surface, 1'000'000'000, {});
    REQUIRE(whole.pair);
    CHECK_FALSE(whole.floor_mm);
    REQUIRE(whole.steps > 100);
    const LeastPair part = least_pair(map.map, asked.surface, 1, {});
    REQUIRE(part.pair);
    CHECK(part.steps < whole.steps);
    CHECK(part.cells_asked <= 16);
    CHECK(part.pair->pair.distance >= whole.pair->pair.distance);
    REQUIRE(part.floor_mm);
    CHECK(*part.floor_mm <= whole.pair->pair.distance);
    // Ended before it began, the thinnest sample is what is known.
    const LeastPair none = least_pair(map.map, asked.surface, 0, {});
    REQUIRE(none.pair);
    CHECK(none.cells_asked == 0);
    double thinnest = 1e300;
    for (const WallSample& s : map.map.samples)
      thinnest = std::min(thinnest, std::abs(s.wall_mm));
    CHECK(none.pair->pair.distance == doctest::Approx(thinnest).epsilon(1e-12));
    CHECK(distance(none.pair->pair.on_first, none.pair->pair.on_second) ==
          doctest::Approx(thinnest).epsilon(1e-12));
  }
}

TEST_CASE("plates far apart: the least wall is found without asking every pair") {
  // All cells are equally near, so none rules out another.
  const auto plate = [](double z) {
    return shapes::sheet({-100, 100}, {-100, 100}, by_build(80, 30), by_build(80, 30),
                         [z](double, double) { return z; });
  };
  const TriMesh pocket = plate(-1), skin = plate(-101);
  const WallMeasurement m = measure_wall(pocket, skin, plain(), {});
  CHECK(m.least.wall_mm == doctest::Approx(100));
  CHECK(m.work.steps < 2 * max_steps(facets(pocket, skin)));
  if (m.left_open.least_floor_mm) {
    CHECK(*m.left_open.least_floor_mm > 99);
    CHECK(*m.left_open.least_floor_mm <= 100);
  }
}

TEST_CASE("a depth whose search is ended lies between what is told, on any number of threads") {
  const TriMesh pocket = bumpy_sheet(5, 40, 24, -3, 1), skin = bumpy_sheet(9, 40, 24, -2, 1);
  const SheetProbe asked(pocket);
  RefineOptions coarse;
  coarse.fine_spacing_mm = coarse.coarse_spacing_mm = 4;
  const RefinedMap map = refine(refine_start(skin, coarse, {}), asked.probe, coarse, {});
  constexpr std::uint64_t kMany = 1'000'000, kNoEnd = 1ULL << 60;
  const Deepest whole = deepest(map, asked.probe, kMany, kNoEnd, {});
  REQUIRE(whole.sample);
  CHECK(whole.settled);
  CHECK(whole.divided > 100);
  const Deepest part = deepest(map, asked.probe, 0, kNoEnd, {});
  REQUIRE(part.sample);
  CHECK_FALSE(part.settled);
  CHECK(part.divided == 0);
  CHECK(part.sample->wall_mm >= whole.sample->wall_mm - 0.0005);
  CHECK(part.floor_mm <= whole.sample->wall_mm);
  CHECK(part.floor_mm < part.sample->wall_mm);
  for (const std::size_t threads : {1U, 3U}) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    const Deepest again = deepest(map, asked.probe, kMany, kNoEnd, {});
    CHECK(again.sample->at == whole.sample->at);
    CHECK(again.divided == whole.divided);
    CHECK(again.steps == whole.steps);
    // Ended by the steps of its searches, after a whole round.
    const Deepest ended = deepest(map, asked.probe, kMany, 1, {});
    CHECK_FALSE(ended.settled);
    CHECK(ended.divided > 0);
    CHECK(ended.divided < whole.divided);
    CHECK(ended.floor_mm <= whole.sample->wall_mm);
  }
}

TEST_CASE("what was left open proves nothing, unless what was measured does") {
  WallMeasurement m;
  m.least.wall_mm = 5;
  m.fine_spacing_mm = 0.2;
  CHECK(left_open_findings(m, {0.8, 0.3, false}).empty());
  const auto severity = [&m](const JudgedPiece& piece) {
    const auto found = left_open_findings(m, piece);
    REQUIRE(found.size() == 1);
    return found[0].severity;
  };
  m.left_open.unsplit_mm = 3;
  // 5 - 1.5 x 2.8 = 0.8: with all errors against it and half as much again.
  CHECK(severity({0.8, 2.8, false}) == Severity::warning);
  CHECK(severity({0.8, 2.81, false}) == Severity::unproven);
  CHECK(severity({0.8, 2.81, true}) == Severity::doubt);
  m.left_open = {};
  m.left_open.least_floor_mm = 1.25; // 1.25 - 1.5 x 0.3 = 0.8
  CHECK(severity({0.8, 0.3, false}) == Severity::warning);
  CHECK(severity({0.8, 0.31, false}) == Severity::unproven);
  m.left_open = {};
  m.left_open.depth_most_mm = 2.5;
  const auto found = left_open_findings(m, {0.8, 0.3, true});
  REQUIRE(found.size() == 1);
  CHECK(found[0].code == "depth-lower-bound");
  CHECK(found[0].text.find("no deeper than 2.500 mm") != std::string::npos);
}
