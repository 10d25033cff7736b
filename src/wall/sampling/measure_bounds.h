// The most that one measurement may do, from the size of its meshes: every stage ends there, tells
// what it leaves open, and the estimate of memory counts on it.
#pragma once

#include <cstddef>
#include <cstdint>

namespace leastwall {

/// Cells of a map of a surface of `facets` facets; the spacing that is chosen (sample_spacing.h)
/// leaves plain meshes well under it.
constexpr std::size_t max_skin_cells(std::size_t facets) {
  return 2 * facets + 6'000'000;
}
/// Cells of the pocket: it is cut coarsely, to see how deep it reaches and what only it sees.
constexpr std::size_t max_pocket_cells(std::size_t facets) {
  return 2 * facets + 1'000'000;
}

/// Steps of searches (work_count.h) of one stage: a plain stage takes some thirty for each sample.
/// About 30 million are done in a second on one core. A tree over n facets is some log2 n deep.
constexpr std::uint64_t max_steps(std::size_t facets) {
  std::uint64_t depth = 1;
  for (std::size_t n = facets; n > 1; n /= 2)
    ++depth;
  return 200'000'000 + 40 * depth * facets;
}

/// Cells that are split to find the deepest point of a cut-through.
constexpr std::uint64_t max_divided(std::size_t facets) {
  return 100'000 + facets / 2;
}

} // namespace leastwall
