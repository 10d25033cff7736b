// The most that one measurement may do, from the size of its meshes: every stage ends there, tells
// what it leaves open, and the estimate of memory counts on it.
#pragma once

#include "spatial/search_bounds.h"

#include <cstddef>
#include <cstdint>

namespace leastwall {

/// Cells of a map of a surface of `facets` facets; the spacing that is chosen (sample_spacing.h)
/// leaves plain meshes well under it.
constexpr std::size_t max_skin_cells(std::size_t facets) {
  return 2 * facets + 2'500'000;
}
/// Cells of the pocket: it is cut coarsely, to see how deep it reaches and what only it sees.
constexpr std::size_t max_pocket_cells(std::size_t facets) {
  return 2 * facets + 1'000'000;
}
/// Do most facets share no edge with another? (A closed surface has half as many corners as facets,
/// a single strip as many.)
constexpr bool is_heap(std::size_t facets, std::size_t corners) {
  return facets > 1000 && 2 * corners > 3 * facets;
}
/// Cells of such a surface: its map need only show where it lies. What is not cut as finely as
/// asked is told, as always. The steps of searches are half as many, too.
constexpr std::size_t max_cells_of_heap(std::size_t facets) {
  return 2 * facets + 500'000;
}

/// Cells that are split to find the deepest point of a cut-through.
constexpr std::uint64_t max_divided(std::size_t facets) {
  return 100'000 + facets / 2;
}

} // namespace leastwall
