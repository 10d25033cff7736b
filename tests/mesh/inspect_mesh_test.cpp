// Findings about meshes, against counts by hand and closed forms (volume and area of a box, Euler's
// polyhedron formula), and orientation.
#include "mesh/inspect_mesh.h"
#include "mesh/weld_mesh.h"
#include "support/mesh_files.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>
#include <utility>

using namespace leastwall;
using namespace leastwall::test;

namespace {

TriMesh joined(TriMesh a, const TriMesh& b) {
  const auto first = static_cast<std::uint32_t>(a.vertices.size());
  a.vertices.insert(a.vertices.end(), b.vertices.begin(), b.vertices.end());
  for (const Tri& t : b.triangles)
    a.triangles.push_back({t[0] + first, t[1] + first, t[2] + first});
  return a;
}

void turn(TriMesh& m, std::size_t t) {
  std::swap(m.triangles[t][1], m.triangles[t][2]);
}

} // namespace

TEST_CASE("a box: area, volume and box in closed form, here and far away") {
  for (const double far : {0.0, 1e4, 1e6}) {
    const MeshFindings f = inspect_mesh(box_mesh({10, 20, 0.8}, {far, far, far}));
    CHECK(f.closed());
    CHECK(f.misoriented_edges == 0);
    CHECK(f.area_mm2 == doctest::Approx(2 * (200 + 8 + 16)).epsilon(1e-9));
    REQUIRE(f.components.size() == 1);
    CHECK(f.components[0].closed);
    CHECK(f.components[0].oriented);
    CHECK(f.components[0].signed_volume_mm3 == doctest::Approx(160).epsilon(1e-9));
  }
}

TEST_CASE("an open sheet: boundary edges and their length") {
  const MeshFindings f = inspect_mesh(sheet_mesh(8, 40, [](double, double) { return 0.0; }));
  CHECK(f.boundary_edges == 32);
  CHECK(f.boundary_length_mm == doctest::Approx(160).epsilon(1e-12));
  CHECK(f.longest_boundary_loop_mm == doctest::Approx(160).epsilon(1e-12));
  CHECK(f.area_mm2 == doctest::Approx(1600).epsilon(1e-12));
  CHECK_FALSE(f.components[0].closed);
}

TEST_CASE("two holes are two runs; the longest is told") {
  TriMesh m = sheet_mesh(10, 100, [](double, double) { return 0.0; });
  m.triangles.erase(m.triangles.begin() + 2 * (5 * 10 + 5),
                    m.triangles.begin() + 2 * (5 * 10 + 5) + 2);
  const MeshFindings f = inspect_mesh(m);
  CHECK(f.boundary_edges == 44);
  CHECK(f.boundary_length_mm == doctest::Approx(440).epsilon(1e-12));
  CHECK(f.longest_boundary_loop_mm == doctest::Approx(400).epsilon(1e-12));
}

TEST_CASE("pieces, hollows and edges with more than two facets") {
  TriMesh hollow = box_mesh({4, 4, 4}, {3, 3, 3});
  for (std::size_t t = 0; t < 12; ++t)
    turn(hollow, t);
  hollow.triangles.pop_back();
  const MeshFindings f = inspect_mesh(joined(box_mesh({10, 10, 10}), hollow));
  REQUIRE(f.components.size() == 2);
  CHECK(f.components[0].triangles == 12);
  CHECK(f.components[0].closed);
  CHECK(f.components[0].signed_volume_mm3 == doctest::Approx(1000));
  CHECK_FALSE(f.components[1].closed);
  CHECK(f.boundary_edges == 3);

  // Two boxes that touch along one edge: that edge has four facets.
  TriMesh touching = joined(box_mesh({1, 1, 1}), box_mesh({1, 1, 1}, {1, 1, 0}));
  CHECK(weld_mesh(touching) == 0);
  CHECK(touching.vertices.size() == 14);
  const MeshFindings g = inspect_mesh(touching);
  CHECK(g.nonmanifold_edges == 1);
  CHECK(g.boundary_edges == 0);
  CHECK_FALSE(g.closed());
  CHECK(g.components.size() == 1);
}

TEST_CASE("facets on the same three corners are seen, whichever way round and however many") {
  TriMesh touching = joined(box_mesh({1, 1, 1}), box_mesh({1, 1, 1}, {1, 1, 0}));
  weld_mesh(touching);
  for (TriMesh m : {box_mesh(), touching, sheet_mesh(2, 1, [](double, double) { return 0.0; })}) {
    CHECK_FALSE(inspect_mesh(m).has_doubled);
    for (std::size_t t = 0; t < m.triangles.size(); ++t) {
      const Tri old = m.triangles[t];
      for (const Tri& again : {old, Tri{old[2], old[1], old[0]}, Tri{old[1], old[2], old[0]}}) {
        TriMesh doubled = m;
        doubled.triangles.insert(doubled.triangles.begin(), again);
        CHECK(inspect_mesh(doubled).has_doubled);
      }
    }
  }
}

TEST_CASE("turned facets are counted by edge and turned back") {
  TriMesh m = box_mesh();
  turn(m, 3);
  turn(m, 8);
  const MeshFindings f = inspect_mesh(m);
  CHECK(f.misoriented_edges == 6);
  CHECK_FALSE(f.components[0].oriented);
  CHECK(orient_facets(m) == 2);
  CHECK(m.triangles == box_mesh().triangles);
}

TEST_CASE("orientation: random turns of a box and of a sheet are undone") {
  std::mt19937 random(7);
  for (int trial = 0; trial < 20; ++trial) {
    TriMesh box = box_mesh({1, 2, 3}, {1e4, 0, 0});
    TriMesh sheet = sheet_mesh(12, 30, [](double x, double y) { return 0.01 * x * y; });
    const std::vector<Tri> straight = sheet.triangles;
    for (std::size_t t = 0; t < 12; ++t)
      if (random() % 2)
        turn(box, t);
    for (std::size_t t = 0; t < sheet.triangles.size(); ++t)
      if (random() % 3 == 0) // fewer than half: the sheet keeps the side that most facets show
        turn(sheet, t);
    orient_facets(box);
    orient_facets(sheet);
    CHECK(inspect_mesh(box).components[0].signed_volume_mm3 == doctest::Approx(6));
    CHECK(inspect_mesh(sheet).misoriented_edges == 0);
    const Tri& t = sheet.triangles[0];
    CHECK(cross(sheet.vertices[t[1]] - sheet.vertices[t[0]],
                sheet.vertices[t[2]] - sheet.vertices[t[0]])
              .z > 0);
  }
}

// Found by damaging a box: following the edges from facet to facet of a one-sided piece left more
// edges that disagree than there were.
TEST_CASE("orientation: a one-sided piece is left with no more edges that disagree") {
  TriMesh m = box_mesh();
  m.triangles = {{0, 1, 2}, {2, 1, 3}, {4, 5, 6}, {1, 5, 7}, {1, 7, 6}, {0, 2, 4},
                 {2, 5, 4}, {3, 6, 7}, {0, 4, 1}, {1, 4, 6}, {2, 3, 5}, {3, 7, 5}};
  REQUIRE(inspect_mesh(m).misoriented_edges == 1);
  orient_facets(m);
  CHECK(inspect_mesh(m).misoriented_edges == 1);
}

// No outside source: edges are counted before and after.
TEST_CASE("orientation: never more edges disagree than before") {
  std::mt19937 random(5);
  TriMesh m;
  m.vertices = {{0, 0, 0}, {1, 0, 0.3}, {0, 1, 0.7}, {2, 2, 1}, {-1, 1, 2}, {1, -1, 3}, {3, 1, 2}};
  std::size_t one_sided = 0, mended = 0;
  for (int trial = 0; trial < 4000; ++trial) {
    m.triangles.clear();
    for (std::uint32_t a = 0; a < 7; ++a) // each facet at most once
      for (std::uint32_t b = a + 1; b < 7; ++b)
        for (std::uint32_t c = b + 1; c < 7; ++c)
          if (random() % 4 == 0)
            m.triangles.push_back(random() % 2 ? Tri{a, b, c} : Tri{a, c, b});
    if (m.triangles.empty())
      continue;
    const std::size_t before = inspect_mesh(m).misoriented_edges;
    orient_facets(m);
    const std::size_t after = inspect_mesh(m).misoriented_edges;
    CHECK(after <= before);
    one_sided += after > 0;
    mended += after < before;
  }
  CHECK(one_sided > 20);
  CHECK(mended > 100);
}

TEST_CASE("weld: order of first use, unused vertices go, nothing near is merged") {
  TriMesh m;
  m.vertices = {{9, 9, 9}, {1, 0, 0}, {0, 0, 0}, {-0.0, 0, 0}, {0, 1, 0}, {1, 0, 1e-15}, {1, 0, 0}};
  m.triangles = {{2, 1, 4}, {3, 4, 5}, {1, 6, 4}};
  CHECK(weld_mesh(m) == 1);
  REQUIRE(m.vertices.size() == 4);
  CHECK(m.vertices[0] == Vec3{0, 0, 0});
  CHECK(m.vertices[1] == Vec3{1, 0, 0});
  CHECK(m.vertices[2] == Vec3{0, 1, 0});
  CHECK(m.vertices[3] == Vec3{1, 0, 1e-15});
  CHECK(m.triangles == std::vector<Tri>{{0, 1, 2}, {0, 2, 3}});
}

TEST_CASE("weld and count agree with Euler's formula on a shuffled torus") {
  constexpr std::uint32_t kRound = 60, kTube = 24;
  const double pi = std::acos(-1.0);
  TriMesh torus, soup;
  for (std::uint32_t i = 0; i < kRound; ++i)
    for (std::uint32_t j = 0; j < kTube; ++j) {
      const double u = 2 * pi * i / kRound, v = 2 * pi * j / kTube;
      torus.vertices.push_back({(30 + 8 * std::cos(v)) * std::cos(u),
                                (30 + 8 * std::cos(v)) * std::sin(u), 8 * std::sin(v)});
    }
  for (std::uint32_t i = 0; i < kRound; ++i)
    for (std::uint32_t j = 0; j < kTube; ++j) {
      const std::uint32_t a = i * kTube + j, b = (i + 1) % kRound * kTube + j,
                          c = i * kTube + (j + 1) % kTube,
                          d = (i + 1) % kRound * kTube + (j + 1) % kTube;
      for (const Tri& t : {Tri{a, b, d}, Tri{a, d, c}})
        torus.triangles.push_back(t);
    }
  std::mt19937 random(3);
  std::shuffle(torus.triangles.begin(), torus.triangles.end(), random);
  for (const Tri& t : torus.triangles) {
    const auto first = static_cast<std::uint32_t>(soup.vertices.size());
    for (const std::uint32_t k : t)
      soup.vertices.push_back(torus.vertices[k]);
    soup.triangles.push_back({first, first + 1, first + 2});
  }
  CHECK(weld_mesh(soup) == 0);
  const MeshFindings f = inspect_mesh(soup);
  CHECK(f.closed());
  CHECK(f.components.size() == 1);
  // V - E + F = 0 for a torus, and E = 3 F / 2 on a closed mesh.
  CHECK(2 * f.vertices == f.triangles);
  CHECK(f.components[0].signed_volume_mm3 > 0);
}
