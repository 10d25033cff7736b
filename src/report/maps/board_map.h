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

struct BoardMapInput {
  std::span<const SkinOnBoard> skins; ///< of all parts; several of one part lie over each other
  const CheckReport& report;          ///< of the job
  const Setup& setup;                 ///< of the first set-up of each side
  bool flip_stated = true;
  std::span<const PartMark> parts;
  std::span<const HoleMark> holes;
  std::span<const std::string> steps; ///< the order of work, a line each
  /// Every wall of this board, of holes and of resin too: their thin places are marked.
  std::span<const WallReport* const> walls;
};

struct BoardMapOptions {
  Side machine = Side::a;
  int width_px = 1600; ///< 400..8000
  bool inch = false;
};

/// The PNG's bytes: board, parts, holes, dowels, touch point, and the expected wall of the skins,
/// the thinner one where several lie over each other; thin places of every wall, least to spare
/// first. Where limits differ the largest one is hatched, and the picture says so. The same input
/// gives the same bytes. Throws as compose_map does.
std::string draw_board_map(const BoardMapInput& input, const BoardMapOptions& options);

/// The PNG's bytes: the halves that lie on the board of `seam`, each with a band along its rim as
/// wide as the step at worst, enlarged. Seen with side A up.
std::string draw_seam_map(const BoardMapInput& input, const SeamRow& seam,
                          const BoardMapOptions& options);

} // namespace leastwall
