// The measured wall on one of the two surfaces: samples joined into small triangles ("cells").
#pragma once

#include "mesh/mesh.h"
#include "space/wall_sample.h"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

namespace leastwall {

/// A surface covered with samples. Cells are at least as fine as the mesh and are subdivided where
/// the wall may be thin. `minima` are samples inside a cell (the thinnest point of a large or
/// pointed place), so that a minimum between corners is not lost.
struct WallMap {
  struct Minimum {
    std::uint32_t sample = 0;
    std::uint32_t cell = 0;
  };
  std::vector<WallSample> samples;
  std::vector<Tri> cells; ///< indices into samples
  std::vector<Minimum> minima;
  /// Samples from this number on are pairs of points that only the other surface sees
  /// (seen_from_pocket.h): `at` is on this surface, all of them are minima, and neighbours among
  /// them are at most `pair_cube_mm` apart.
  std::size_t first_pair = std::numeric_limits<std::size_t>::max();
  double pair_cube_mm = 0;

  /// Samples that were measured from this surface: all in front of the pairs.
  std::span<const WallSample> own_samples() const {
    return {samples.data(), std::min(first_pair, samples.size())};
  }
};

/// A pair of nearest points: the wall in one place.
struct WallPlace {
  Vec3 skin;          ///< point on the skin, model space, mm
  Vec3 pocket;        ///< nearest point on the pocket
  Vec3 n;             ///< unit, from the pocket side towards the skin side
  double wall_mm = 0; ///< distance, <= 0 where it is cut through (then the depth)
  /// Pocket floor minus skin height straight along z at `skin`; absent where the column misses.
  std::optional<double> straight_down_mm;
};

} // namespace leastwall
