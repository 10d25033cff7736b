// What holds for every mesh that is accepted.
#pragma once

#include "mesh/load/load_mesh.h"

namespace leastwall::fuzz {

/// Aborts when it does not hold: finite vertices, facets with three different corners that exist,
/// at least one of them, no vertex twice or unused, counts that agree, plain notices; welding again
/// changes nothing; orienting and a second inspection go through.
void require_sense(const LoadedMesh& loaded);

} // namespace leastwall::fuzz
