// The seam of two glued halves, as plain data.
#pragma once

#include "causes/model/cause_id.h"
#include "space/footprint.h"
#include "space/vec3.h"

#include <cstdint>
#include <string>
#include <vector>

namespace leastwall {

/// What one cause does to the step where that is largest.
struct SeamCause {
  CauseId id;
  double expected_mm = 0;   ///< known part, signed
  double half_width_mm = 0; ///< at worst this much either way
};

/// A place of the rim.
struct SeamPlace {
  Point2 across, across_other; ///< unit, across the outline there
  Point2 at, at_other;         ///< on the board, model x, y: of this half and of the other one
  double length_mm = 0;
  double worst_mm = 0; ///< step there when all stated errors add up
};

/// How far the outer faces of two halves stand off one another along the rim, mm, >= 0.
struct SeamRow {
  std::string part, with; ///< names of this half and of the other one
  std::uint32_t board = 0, other_board = 0;
  double expected_mm = 0;    ///< largest step from what is known
  double in_19_of_20_mm = 0; ///< the largest step of 19 in 20 pieces is no more than this
  double worst_mm = 0;       ///< largest step when all stated errors add up
  std::uint64_t trials = 0;
  SeamPlace largest;             ///< where `worst_mm` is
  std::vector<SeamCause> causes; ///< there, largest first
  std::vector<SeamPlace> places; ///< along the whole rim
};

} // namespace leastwall
