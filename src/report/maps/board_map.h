// Maps of the whole board: every part with its walls, and the seam of two halves.
#pragma once

#include "parts/board_marks.h"
#include "report/check_report.h"
#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <span>
#include <string>
#include <vector>

namespace leastwall {

/// The wall between a skin and one of its pockets, where the part lies on the board.
struct SkinOnBoard {
  const WallMap& map;
  std::span<const double> expected_mm, worst_mm; ///< one a sample
  const WallReport& wall;
};

/// A wall with its number in the report, from 1.
struct NumberedWall {
  const WallReport* wall = nullptr;
  std::size_t number = 0;
};

struct BoardMapInput {
  std::span<const SkinOnBoard> skins; ///< of all parts; several of one part lie over each other
  const CheckReport& report;          ///< of the job
  const Setup& setup;                 ///< of the first set-up of each side
  bool flip_stated = true;
  std::span<const PartMark> parts;
  std::span<const HoleMark> holes;
  std::span<const std::string> steps; ///< the order of work, a line each
  /// Every wall of this board, of holes and of resin too: their thin places are marked.
  std::span<const NumberedWall> walls;
  std::uint32_t board = 0, boards = 1; ///< which board of how many
  std::uint32_t thinnest_board = 0;    ///< that has the wall of `report`
  bool board_stated = true; ///< false: that of `setup` is a rectangle round the parts, not drawn
};

struct BoardMapOptions {
  Side machine = Side::a;
  int width_px = 1600; ///< 400..8000
  bool inch = false;
};

/// The PNG's bytes: board, parts, holes, dowels, touch point, and the expected wall of the skins,
/// the thinner one where several lie over each other; thin places of every wall, least to spare
/// first, each called by the number of its wall and its own there ("8-1"). Where limits differ the
/// largest one is hatched, and the picture says so. The same input gives the same bytes. Throws as
/// compose_map does.
std::string draw_board_map(const BoardMapInput& input, const BoardMapOptions& options);

/// The PNG's bytes: the halves that lie on the board of `seam`, each with a band along its rim as
/// wide as the step at worst, enlarged. Seen with side A up.
std::string draw_seam_map(const BoardMapInput& input, const SeamRow& seam,
                          const BoardMapOptions& options);

} // namespace leastwall
