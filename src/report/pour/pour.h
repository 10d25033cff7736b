// A pour with what its pictures are drawn from.
#pragma once

#include "mesh/mesh.h"
#include "report/pour/pour_section.h"
#include "report/pour_report.h"

#include <array>
#include <vector>

namespace leastwall {

/// Of one row; empty where nothing lies under the pocket face.
struct PourDrawing {
  PourSection section;
  TriMesh wet;                           ///< the wetted surface
  std::vector<std::array<Vec3, 3>> thin; ///< its thin places
};

struct Pour {
  PourReport report;
  std::vector<PourDrawing> drawings; ///< of each row of the report; none where none was asked for
};

} // namespace leastwall
