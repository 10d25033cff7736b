// Where a cut's sides slope at the pocket face, a cut that is too deep is wider there, too.
//
// The causes move a surface and ask for the part along n. At the mouth of a pocket the surface ends
// in the board's face, and the nearest point of it is its edge: n is level there, yet the edge
// moves sideways by the slope of the side times what the cut is too deep. The causes do not carry
// that; what it can come to is bounded here, and a wall that it could bring under its limit is not
// proven.
#pragma once

#include "base/notice.h"
#include "budget/budget.h"
#include "mesh/mesh.h"
#include "setup/setup.h"
#include "wall/measure_wall.h"

#include <optional>
#include <span>

namespace leastwall {

/// How far the edge of the steepest leaning side moves sideways per mm of depth, 0 for upright
/// sides: the largest |m_z| / |m_xy| of the facets that reach the pocket face, those flat on it
/// left out. `top_z_mm`: of the face; absent: the top of the mesh.
double mouth_slope(const TriMesh& mesh, std::optional<double> top_z_mm);

/// Of both cuts of a wall.
struct MouthSlopes {
  double inner = 0, outer = 0;
};

/// By how much the causes may thin a level floor there, mm: known shift and two standard
/// uncertainties. `s.n` is not used.
double level_floor_errors(std::span<const Cause> causes, const WallSample& s);

/// The finding mouth-widens, unproven, where a wall between two edges at the pocket face may end
/// under the limit: its worst case less, for each cut, slope times known shift and two standard
/// uncertainties of how deep the cut is under the board's face. Between a pocket and the skin both
/// are what moves a level floor there (the larger slope counts); beside one another both pockets
/// widen, whether they share their errors or not; of resin what both share widens them by as much
/// as their slopes differ. `setup`: of the wall, with its board's footprint unless it goes through
/// the board; `limit_mm`: as judged.
std::vector<Notice> mouth_notices(const WallMeasurement& wall, const Budget& budget,
                                  const Setup& setup, const MouthSlopes& slopes, double limit_mm);

} // namespace leastwall
