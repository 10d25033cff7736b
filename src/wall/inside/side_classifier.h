// Which side of a mesh points lie on: the air rule asked below the pocket face, and spared where
// the answer is already known.
#pragma once

#include "base/run_context.h"
#include "wall/inside/inside_test.h"

#include <atomic>
#include <cstdint>

namespace leastwall {

/// Safe from many threads.
class SideClassifier {
 public:
  /// Points above `top_mm` are asked for their side just below it, where the pocket face does not
  /// confuse the answer. `rule` must outlive this.
  SideClassifier(const InsideTest& rule, double top_mm) : rule_(rule), top_mm_(top_mm) {}

  bool in_air(Vec3 p) const;

  /// Are p and q certainly on the same side, given that no surface passes between them?
  bool same(Vec3 p, Vec3 q) const {
    return rule_.changes_only_at_surface() && p.z <= top_mm_ && q.z <= top_mm_;
  }

  /// May anything of `here` be in the air? `here` must stay at least `apart_mm` (0: unknown) away
  /// from the mesh asked. Triangles longer than `spacing_mm` are asked in between too, where the
  /// rule can change its mind beside a rim. When the searches have taken `max_steps`, it may be.
  bool any_in_air(const TriMesh& here, double apart_mm, double spacing_mm, std::uint64_t max_steps,
                  const RunContext& run) const;

  /// Points whose side could not be told clearly.
  std::size_t ambiguous_points() const { return ambiguous_; }

 private:
  const InsideTest& rule_;
  double top_mm_;
  mutable std::atomic<std::size_t> ambiguous_{0};
};

} // namespace leastwall
