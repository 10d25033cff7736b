// The thin places of a map: what is connected under a limit, parted among its clear least places.
//
// A long strip may be thinnest in two dips far apart; each is a place to look at. The samples under
// the limit are taken from the thinnest on; a sample lower than all its neighbours begins a dip,
// and where two dips meet, at the saddle between them, the shallower one ends. Its depth is the
// saddle less its own least wall (persistence; Edelsbrunner, Letscher, Zomorodian 2002). It is
// clear, and a place of its own, when it is
//   at least 0.02 mm deep, which a rough surface or a coarse mesh may be by itself, and
//   either a quarter as deep as all that is connected lies under the limit, or far from every other
//   place: a fifth of the size of what is connected, and 15 mm at least;
// of one connected area the nine deepest at the most. What is no place of its own belongs to the
// one that it meets. So areas add up, and every sample under the limit belongs to one place.
#pragma once

#include "wall/sampling/wall_map.h"

#include <cstdint>
#include <limits>
#include <span>
#include <vector>

namespace leastwall {

inline constexpr std::uint32_t kNoPlace = std::numeric_limits<std::uint32_t>::max();

/// For each sample its place, named by the place's sample with the least `shown` (of equals the
/// first), or kNoPlace where `judged` is not under the limit. Both hold one value in mm per sample.
/// n log n in the samples under the limit; some 30 bytes for each of them and 8 for each cell.
std::vector<std::uint32_t> least_places(const WallMap& map, std::span<const double> judged,
                                        std::span<const double> shown, double limit_mm);

} // namespace leastwall
