// Vertices in an order in which neighbours are near one another in space.
#pragma once

#include "base/run_context.h"
#include "mesh/mesh.h"

#include <cstdint>
#include <vector>

namespace leastwall {

/// Numbers of all vertices of `mesh` along a space-filling curve (Morton's), so that neighbours in
/// a block are neighbours in space. Vertices in one place keep their order.
std::vector<std::uint32_t> order_in_space(const TriMesh& mesh, const RunContext& run);

} // namespace leastwall
