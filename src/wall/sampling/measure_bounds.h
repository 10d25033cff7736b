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

/// Cells that are split to find the deepest point of a cut-through.
constexpr std::uint64_t max_divided(std::size_t facets) {
  return 100'000 + facets / 2;
}

} // namespace leastwall
