// Inside and outside of bodies with many openings: as told by the whole body, without a sum over
// all open edges for every point.
#include "wall/inside/close_holes.h"

#include "base/work_count.h"
#include "mesh/inspect_mesh.h"
#include "support/shapes.h"
#include "wall/inside/inside_test.h"

#include <doctest/doctest.h>
#include <random>

using namespace leastwall;

namespace {

TriMesh without(TriMesh m, double share, unsigned seed) {
  std::mt19937 random(seed);
  std::bernoulli_distribution lost(share);
  std::erase_if(m.triangles, [&](const Tri&) { return lost(random); });
  return m;
}

/// Every facet with corners of its own.
TriMesh torn(const TriMesh& m) {
  TriMesh out;
  for (const Tri& t : m.triangles) {
    const auto first = static_cast<std::uint32_t>(out.vertices.size());
    for (const std::uint32_t v : t)
      out.vertices.push_back(m.vertices[v]);
    out.triangles.push_back({first, first + 1, first + 2});
  }
  return out;
}

} // namespace

TEST_CASE("cones close what is open") {
  const TriMesh m = without(shapes::sphere({}, 10, 24, 12), 0.1, 3);
  std::vector<OpenEdge> open;
  // Each edge of a facet without its opposite.
  for (const Tri& t : m.triangles)
    for (std::size_t i = 0; i < 3; ++i) {
      const OpenEdge e{t[i], t[(i + 1) % 3]};
      bool met = false;
      for (const Tri& o : m.triangles)
        for (std::size_t k = 0; k < 3; ++k)
          met = met || (o[k] == e[1] && o[(k + 1) % 3] == e[0]);
      if (!met)
        open.push_back(e);
    }
  REQUIRE(open.size() > 60);
  TriMesh cones = close_holes(m, open);
  CHECK(cones.triangles.size() == open.size());
  // Mesh and cones together have no vector area: closed.
  Vec3 sum;
  for (const TriMesh* part : {&m, static_cast<const TriMesh*>(&cones)})
    for (const Tri& t : part->triangles)
      sum += cross(part->vertices[t[1]] - part->vertices[t[0]],
                   part->vertices[t[2]] - part->vertices[t[0]]);
  CHECK(length(sum) < 1e-9);
}

TEST_CASE("a body with many openings is asked as cheaply as a whole one, and answers alike") {
  const TriMesh whole = shapes::sphere({1, 2, 3}, 20, 60, 30);
  struct Row {
    TriMesh mesh;
    double least_alike;
  };
  for (const auto& [mesh, least_alike] :
       {Row{without(whole, 0.02, 1), 0.999}, Row{without(whole, 0.05, 2), 0.999},
        Row{without(whole, 0.1, 3), 0.995}, Row{torn(whole), 0.999}}) {
    const VerticalRayGrid columns(mesh);
    const InsideTest rule(mesh, columns, CutFrom::above);
    CAPTURE(rule.words());
    std::mt19937 random(7);
    std::uniform_real_distribution<double> in(-24, 24);
    int asked = 0, alike = 0;
    const std::uint64_t before = steps_of_thread;
    for (int i = 0; i < 4000; ++i) {
      const Vec3 p{1 + in(random), 2 + in(random), 3 + in(random)};
      if (std::abs(distance(p, {1, 2, 3}) - 20) < 0.3)
        continue; // beside the facets, which are no sphere
      ++asked;
      alike += rule.ask(p).air == (distance(p, {1, 2, 3}) < 20);
    }
    CHECK(alike >= least_alike * asked);
    CHECK((steps_of_thread - before) / static_cast<std::uint64_t>(asked) < 120);
  }
}
