// What findings mean for the user.
#pragma once

#include "base/notice.h"
#include "mesh/inspect_mesh.h"

#include <vector>

namespace leastwall {

/// Notices with advice. Codes: open-edges, nonmanifold-edges, misoriented-facets, inside-out,
/// hollow-piece, several-pieces, degenerate-facets, doubled-facets, size-odd.
std::vector<Notice> mesh_notices(const MeshFindings& findings);

} // namespace leastwall
