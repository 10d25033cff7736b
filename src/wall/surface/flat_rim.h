// The rim of an open sheet that lies flat: where a pocket or a skin that was drawn without lid
// ends.
#pragma once

#include "mesh/mesh.h"

#include <optional>

namespace leastwall {

/// Height of the flat rim, mm: more than half of the open edges, by their length seen from above,
/// lie at the highest point of the mesh and their facets fall from them. Absent for bodies, plates
/// and reliefs, whose outline has many heights or lies level.
std::optional<double> flat_rim(const TriMesh& mesh);

} // namespace leastwall
