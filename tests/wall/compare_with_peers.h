// Compares a measurement with what reference libraries say of the same two surfaces.
#pragma once

#include "peers/reference_library.h"
#include "wall/measure_wall.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>

namespace leastwall::test {

struct PeerCheck {
  double ceiling_mm = 1.5;          ///< as measured with
  double tolerance_mm = 1e-3;       ///< of the least wall, as the program promises
  double point_tolerance_mm = 1e-6; ///< of walls at single points
  std::size_t samples = 300;        ///< on each surface
};

/// Walls at single samples against the distance of CGAL. Thick walls may be lower bounds.
inline void check_samples(const WallMap& map, const peers::PointDistance& other,
                          const PeerCheck& with) {
  const double sure_mm = std::max(4.0, 2.5 * with.ceiling_mm);
  const std::size_t step = std::max<std::size_t>(1, map.own_samples().size() / with.samples);
  std::size_t exact = 0;
  for (std::size_t i = 0; i < map.own_samples().size(); i += step) {
    const WallSample& s = map.samples[i];
    const double reference = other(s.at);
    CAPTURE(s.at.x);
    CAPTURE(s.at.y);
    CAPTURE(s.at.z);
    REQUIRE(std::abs(s.wall_mm) <= reference + with.point_tolerance_mm);
    if (reference < sure_mm) {
      REQUIRE(std::abs(s.wall_mm) >= reference - with.point_tolerance_mm);
      ++exact;
    }
    REQUIRE(std::abs(length(s.n) - 1) < 1e-9);
  }
  CHECK(exact > 0);
}

/// `pocket` and `skin` are the machined surfaces: what the references measure.
inline void check_against_peers(const WallMeasurement& m, const TriMesh& pocket,
                                const TriMesh& skin, const PeerCheck& with) {
  const double reference = peers::mesh_distance(pocket, skin); // FCL
  CHECK(reference > 0);
  CHECK_FALSE(m.intersects);
  CHECK(std::abs(m.least.wall_mm - reference) < with.tolerance_mm);
  // The pair that is reported lies on the two surfaces and is as far apart as it says.
  const peers::PointDistance to_pocket(pocket), to_skin(skin); // CGAL
  CHECK(to_pocket(m.least.pocket) < with.point_tolerance_mm);
  CHECK(to_skin(m.least.skin) < with.point_tolerance_mm);
  CHECK(std::abs(distance(m.least.pocket, m.least.skin) - m.least.wall_mm) < 1e-9);
  check_samples(m.skin, to_pocket, with);
  check_samples(m.pocket, to_skin, with);
}

} // namespace leastwall::test
