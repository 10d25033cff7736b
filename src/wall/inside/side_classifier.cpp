#include "wall/inside/side_classifier.h"

#include "base/parallel.h"
#include "base/work_count.h"
#include "spatial/triangle_distance.h"

#include <algorithm>

namespace leastwall {
namespace {

/// Points that leave no gap wider than about `spacing` on a triangle, corners left out.
template <class Visit>
void points_on(const TriangleCorners& t, double spacing, const Visit& visit) {
  const double longest =
      std::max({distance(t[0], t[1]), distance(t[1], t[2]), distance(t[2], t[0])});
  const int parts = static_cast<int>(std::min(longest / spacing, 100.0)) + 1;
  for (int i = 0; i <= parts; ++i)
    for (int k = 0; i + k <= parts; ++k)
      if (i != parts && k != parts && i + k != 0)
        visit(t[0] + (t[1] - t[0]) * (double(i) / parts) + (t[2] - t[0]) * (double(k) / parts));
}

} // namespace

bool SideClassifier::in_air(Vec3 p) const {
  p.z = std::min(p.z, top_mm_);
  const InsideTest::Answer answer = rule_.ask(p);
  if (answer.ambiguous)
    ++ambiguous_;
  return answer.air;
}

bool SideClassifier::any_in_air(const TriMesh& here, double apart_mm, double spacing_mm,
                                std::uint64_t max_steps, const RunContext& run) const {
  // It is found, or the work is too much: however threads race, it comes out the same.
  std::atomic<bool> found{false};
  StepCount steps;
  const auto look = [&](std::size_t count, const auto& asked) {
    for_blocks(count, 4096, run, [&](std::size_t begin, std::size_t end) {
      const StepCount::Span span(steps);
      const std::uint64_t before = steps_of_thread;
      for (std::size_t i = begin; i < end && !found; ++i)
        if (asked(i, begin) || steps.total() + (steps_of_thread - before) > max_steps)
          found = true;
    });
  };
  look(here.vertices.size(), [&](std::size_t i, std::size_t begin) {
    const Vec3 p = here.vertices[i];
    const bool told = i > begin && same(p, here.vertices[i - 1]) &&
                      distance(p, here.vertices[i - 1]) < apart_mm * (1 - 1e-9);
    return !told && in_air(p);
  });
  // Within a triangle the side can change without a surface between only where a rim decides it.
  if (found || rule_.changes_only_at_surface())
    return found;
  look(here.triangles.size(), [&](std::size_t i, std::size_t) {
    const Tri& t = here.triangles[i];
    bool any = false;
    points_on({here.vertices[t[0]], here.vertices[t[1]], here.vertices[t[2]]}, spacing_mm,
              [&](Vec3 p) { any = any || in_air(p); });
    return any;
  });
  return found;
}

} // namespace leastwall
