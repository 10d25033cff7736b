// Room round the parts of a job: to one another, to the edge of the board, to the dowels of the
// flip, and to the edge of the bed.
#pragma once

#include "mesh/mesh.h"
#include "parts/board_row.h"
#include "parts/on_board.h"
#include "setup/setup.h"

#include <cstdint>
#include <span>
#include <string>

namespace leastwall {

/// A part, or only its box where the mesh is not needed.
struct PartOutline {
  std::string name;
  const TriMesh& skin;
  OnBoard on_board;
  Box box;                 ///< of skin and pockets, on the board
  std::uint32_t board = 0; ///< parts on different boards are not held against one another
};

/// Gaps of more than this are left out.
inline constexpr double kFarGap_mm = 50;

/// `setup`: board, bed and flip of the job. Gaps between parts and to dowels are those of the
/// outlines, exact; to the edges of board and bed those of the boxes, which is the same.
/// `flip_hole_radius_mm`: of the holes of the flip's dowels; 0: not known, gaps are to their
/// middle.
BoardRow room_on_board(std::span<const PartOutline> parts, const Setup& setup,
                       double flip_hole_radius_mm = 0);

} // namespace leastwall
