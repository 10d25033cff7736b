// The search of a TriangleTree: a template, for its callers alone.
#pragma once

#include "base/work_count.h"
#include "spatial/triangle_tree.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <optional>

namespace leastwall {

inline double TriangleTree::slack_at(Vec3 q) const {
  // Far queries lose absolute precision: widen by their own rounding. Turning a point in single
  // precision moves it by at most 5 x 2^-24 of its size on each axis, and the axes are of unit
  // length and square to each other to 2^-23.
  return slack_ + 2e-6 * std::max({std::abs(q.x), std::abs(q.y), std::abs(q.z)});
}

inline float TriangleTree::reach2_of(double radius, double slack) {
  const double reach = radius * (1 + 1e-6) + slack;
  return reach < kFar ? static_cast<float>(reach * reach * (1 + 1e-6))
                      : static_cast<float>(kFar * kFar);
}

inline TriangleTree::F4 TriangleTree::leaf_d2(const Leaf& leaf, const std::array<F4, 3>& at) {
  std::array<F4, 4> off;
  for (std::size_t k = 0; k < 4; ++k) {
    const std::array<F4, 4>& plane = leaf.planes[k];
    off[k] = plane[0] * at[0] + plane[1] * at[1] + plane[2] * at[2] - plane[3];
  }
  const F4 out = larger(larger(off[1], off[2]), larger(off[3], all(0)));
  return off[0] * off[0] + out * out;
}

template <class Visit> void TriangleTree::search(Vec3 p, double radius, Visit& visit) const {
  const Vec3 q = p - origin_;
  const double slack = slack_at(q);
  const auto squared = [slack](double r) { return reach2_of(r, slack); };
  float reach2 = squared(radius);
  const std::array<F4, 3> at{all(length_in_single(q.x)), all(length_in_single(q.y)),
                             all(length_in_single(q.z))};

  std::array<Entry, 64> stack; // three left over from each of at most 16 levels, and the root
  std::size_t top = 0;
  stack[top++] = {0, static_cast<std::uint32_t>(levels_.size()), 0};
  std::uint64_t steps = 1;
  while (top > 0) {
    const Entry entry = stack[--top];
    if (entry.d2 > reach2)
      continue;
    ++steps;
    if (entry.level == 0) {
      const Leaf& leaf = leaves_[entry.index];
      const F4 d2 = leaf_d2(leaf, at);
      // The nearest first: most often it rules the others out.
      for (unsigned left = not_over(d2, reach2); left != 0;) {
        auto nearest = static_cast<unsigned>(std::countr_zero(left));
        for (unsigned rest = left & (left - 1); rest != 0; rest &= rest - 1)
          if (const auto k = static_cast<unsigned>(std::countr_zero(rest)); d2[k] < d2[nearest])
            nearest = k;
        left &= ~(1u << nearest);
        ++steps;
        if (const std::optional<double> nearer = visit(leaf.triangle[nearest])) {
          reach2 = std::min(reach2, squared(*nearer));
          left &= not_over(d2, reach2);
        }
      }
      continue;
    }
    const Node& node = nodes_[levels_[entry.level - 1].first + entry.index];
    F4 d2 = all(0);
    const F4 turned = node.turn[0] * at[0] + node.turn[1] * at[1] + node.turn[2] * at[2];
    for (std::size_t k = 0; k < 3; ++k) {
      const F4 here = all(turned[k]);
      const F4 out = larger(larger(node.low[k] - here, here - node.high[k]), all(0));
      d2 += out * out;
    }
    // Pushed so that the nearest is taken first.
    const std::size_t base = top;
    for (unsigned left = not_over(d2, reach2); left != 0; left &= left - 1) {
      const auto k = static_cast<unsigned>(std::countr_zero(left));
      const float near = d2[k];
      std::size_t i = top++;
      for (; i > base && stack[i - 1].d2 < near; --i)
        stack[i] = stack[i - 1];
      stack[i] = {near, entry.level - 1, 4 * entry.index + k};
    }
  }
  count_steps(steps);
}

template <class Visit>
bool TriangleTree::search_outside(Vec3 p, double radius, const Slab& slab, std::uint64_t most_steps,
                                  Visit& visit) const {
  const Vec3 q = p - origin_;
  const double slack = slack_at(q), offset = dot(slab.normal, slab.on - origin_);
  const float reach2 = reach2_of(radius, slack);
  const std::array<F4, 3> at{all(length_in_single(q.x)), all(length_in_single(q.y)),
                             all(length_in_single(q.z))};
  const std::array<F4, 3> normal{all(direction_in_single(slab.normal.x)),
                                 all(direction_in_single(slab.normal.y)),
                                 all(direction_in_single(slab.normal.z))};
  // Boxes certainly within these are left alone.
  const F4 low = all(static_cast<float>(std::max(offset + slab.low + slack_, -kFar)));
  const F4 high = all(static_cast<float>(std::min(offset + slab.high - slack_, kFar)));

  std::array<Entry, 64> stack;
  std::size_t top = 0;
  stack[top++] = {0, static_cast<std::uint32_t>(levels_.size()), 0};
  std::uint64_t steps = 1;
  bool more = true;
  while (more && top > 0 && steps < most_steps) {
    const Entry entry = stack[--top];
    ++steps;
    if (entry.level == 0) {
      const Leaf& leaf = leaves_[entry.index];
      for (unsigned left = not_over(leaf_d2(leaf, at), reach2); more && left != 0;
           left &= left - 1) {
        steps += kStepsOfVisit;
        more = visit(leaf.triangle[static_cast<unsigned>(std::countr_zero(left))]);
      }
      continue;
    }
    const Node& node = nodes_[levels_[entry.level - 1].first + entry.index];
    const F4 turned = node.turn[0] * at[0] + node.turn[1] * at[1] + node.turn[2] * at[2];
    const F4 along = node.turn[0] * normal[0] + node.turn[1] * normal[1] + node.turn[2] * normal[2];
    F4 d2 = all(0), least = all(0), most = all(0);
    for (std::size_t k = 0; k < 3; ++k) {
      const F4 here = all(turned[k]);
      const F4 out = larger(larger(node.low[k] - here, here - node.high[k]), all(0));
      d2 += out * out;
      const F4 one = node.low[k] * all(along[k]), other = node.high[k] * all(along[k]);
      const F4 larger_of = larger(one, other);
      most += larger_of;
      least += one + other - larger_of;
    }
    for (unsigned left = not_over(d2, reach2); left != 0; left &= left - 1) {
      const auto k = static_cast<unsigned>(std::countr_zero(left));
      if (!(least[k] >= low[k] && most[k] <= high[k]))
        stack[top++] = {d2[k], entry.level - 1, 4 * entry.index + k};
    }
  }
  count_steps(steps);
  return more && top == 0;
}

} // namespace leastwall
