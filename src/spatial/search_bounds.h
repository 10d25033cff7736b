// The most that the searches of one measurement may do. A plain mesh is far from it; facets that
// are long, narrow and lie across one another cannot be told apart by any tree of boxes.
#pragma once

#include "base/errors.h"

#include <cstddef>
#include <cstdint>

namespace leastwall {

/// Steps of searches (work_count.h) over `facets` facets of both surfaces: a plain stage takes some
/// thirty for each sample, and a surface of even facets that is thin all over some hundred for each
/// facet. About 10 million are done in a second on one core. A tree over n facets is some log2 n
/// deep.
constexpr std::uint64_t max_steps(std::size_t facets) {
  std::uint64_t depth = 1;
  for (std::size_t n = facets; n > 1; n /= 2)
    ++depth;
  return 60'000'000 + 10 * depth * facets;
}

/// For what cannot be left open when the steps are used up.
[[noreturn]] inline void throw_too_tangled() {
  throw InputError(
      "the facets are so long and narrow, or lie so much across one another, that they "
      "cannot be measured in bounded time; export meshes with evenly shaped facets");
}

} // namespace leastwall
