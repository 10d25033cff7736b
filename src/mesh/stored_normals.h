// Normals written beside the facets: not used, only compared.
#pragma once

#include "base/notice.h"
#include "space/vec3.h"

#include <cstddef>
#include <vector>

namespace leastwall {

/// Counts facets whose stored normal looks away from the side that the winding shows.
struct StoredNormals {
  std::size_t compared = 0, against = 0;

  /// Zero and non-finite normals are not compared: many writers leave them empty.
  void add(Vec3 stored, Vec3 a, Vec3 b, Vec3 c) {
    const double along = dot(stored, cross(b - a, c - a));
    if (along > 0 || along < 0) {
      ++compared;
      against += along < 0;
    }
  }
  /// Adds the notice `normals-disagree` when more than one in twenty disagree.
  void describe(std::vector<Notice>& notices) const;
};

} // namespace leastwall
