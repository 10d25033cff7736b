// The model against the board it is to be cut from.
#pragma once

#include "base/notice.h"
#include "base/units.h"
#include "setup/setup.h"
#include "space/box.h"
#include "wall/sampling/wall_map.h"

#include <optional>
#include <span>
#include <vector>

namespace leastwall {

/// The thickest that the board can be, mm: as measured (the highest
/// reading), else as stated, with its error (two
/// standard uncertainties where it is stated as one) and what it varies from place to place.
/// Absent when no one said how thick it is.
std::optional<double> thickest_board_mm(const Board& board);

/// The thinnest that the board can be when side B is cut, mm: the lowest reading, else as measured
/// or stated, less its error, what it varies and what it shrinks. Absent when no one said how thick
/// it is.
std::optional<double> thinnest_board_mm(const Board& board);

/// Model z of the board's own skin face when it lies as high as it can, side B being cut: skin that
/// is drawn below it may be air. With zero on top of side B the skin hangs from that very face, and
/// only the program's thickness counts. Absent when nothing says how thick the board is.
std::optional<double> board_face_z_mm(const Setup& setup);

/// Walls as they were computed: per sample at worst, and the one that can be counted on everywhere.
struct WallsAtWorst {
  const WallMap& map;
  std::span<const double> worst_mm;
  double counted_on_mm = 0;
};

/// The finding "board-too-thin": where the board may end above the skin as drawn, its own face is
/// the outer surface, and the wall ends there: it is thinner by no more than the skin lies beyond.
/// Unproven where a wall may then be under the limit and was judged to hold; else a doubt.
/// `box`: of the piece, model space.
std::vector<Notice> thin_board_findings(const Setup& setup, const Box& box,
                                        const WallsAtWorst& walls, double limit_mm, bool holds);

/// Throws InputError with both numbers when the piece (`box`, model space, with
/// `setup.top_z_mm`) is certainly deeper than the board is thick; `units`: of the job, for the
/// message.
void require_thick_enough_board(const Setup& setup, const Box& box, LengthUnit units);

/// What the unit mistake and the forgotten shift look like: codes model-off-board and
/// model-deeper-than-board.
std::vector<Notice> board_mistakes(const Setup& setup, const Box& box);

} // namespace leastwall
