// Edges with one facet, and how many of them may be looked at.
#pragma once

#include "space/vec3.h"

#include <cstdint>

namespace leastwall {

struct OpenEdge {
  Vec3 from, to;       ///< as in its facet
  Vec3 opposite;       ///< third corner of the facet
  std::uint32_t facet; ///< index into triangles
};

/// From the edge into its facet, square to the edge.
inline Vec3 inwards(const OpenEdge& e) {
  const Vec3 along = unit(e.to - e.from), in = e.opposite - e.from;
  return unit(in - along * dot(in, along));
}

/// How many edges may still be looked at. Where very many end in one place, each of them would be
/// held against all others.
class Looks {
 public:
  explicit Looks(std::uint64_t most) : left_(most) {}
  bool left() const { return left_ > 0; }
  /// Takes one; false: there is none.
  bool take() {
    if (left_ > 0)
      --left_;
    return left_ > 0;
  }
  /// Takes all that are left.
  void spend() { left_ = 0; }

 private:
  std::uint64_t left_;
};

} // namespace leastwall
