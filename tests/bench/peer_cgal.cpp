// Peer: CGAL's AABB tree, in doubles, shared by TBB's threads. Simple_cartesian was the faster of
// the two kernels tried; the tree's own search for a first guess (a tree of points) stays on, as
// it is by default.
#include "bench/run_peer.h"

#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/AABB_triangle_primitive.h>
#ifdef BENCH_EPICK
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#else
#include <CGAL/Simple_cartesian.h>
#endif
#include <cmath>
#include <memory>

namespace {

#ifdef BENCH_EPICK
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
#else
using Kernel = CGAL::Simple_cartesian<double>;
#endif
using Triangles = std::vector<Kernel::Triangle_3>;
using Primitive = CGAL::AABB_triangle_primitive<Kernel, Triangles::const_iterator>;
using Tree = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, Primitive>>;

Kernel::Point_3 point(const bench::Point& p) {
  return {double{p[0]}, double{p[1]}, double{p[2]}};
}

struct Built {
  Triangles triangles;
  Tree tree;
};

std::unique_ptr<Built> build(const bench::Call&, const bench::Mesh& pocket) {
  auto built = std::make_unique<Built>();
  built->triangles.reserve(pocket.triangles.size());
  for (const auto& t : pocket.triangles) {
    const Kernel::Triangle_3 facet(point(pocket.points[t[0]]), point(pocket.points[t[1]]),
                                   point(pocket.points[t[2]]));
    if (!facet.is_degenerate()) // CGAL's precondition
      built->triangles.push_back(facet);
  }
  built->tree.insert(built->triangles.cbegin(), built->triangles.cend());
  built->tree.build();
  built->tree.accelerate_distance_queries(); // before the threads start
  return built;
}

auto ask(const Built& built) {
  return
      [&built](const bench::Point& p) { return std::sqrt(built.tree.squared_distance(point(p))); };
}

} // namespace

int main(int argc, char** argv) {
  return bench::run_peer(argc, argv, build, ask);
}
