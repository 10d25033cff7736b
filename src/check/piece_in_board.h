// The model against the board it is to be cut from.
#pragma once

#include "base/notice.h"
#include "base/units.h"
#include "setup/setup.h"
#include "space/box.h"

#include <optional>
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

/// How far the skin as side B cuts it may lie over the board's own face, mm, 0 or more. The wall
/// ends at that face there: walls may be thinner by this than they are computed. With zero on top
/// of side B the skin hangs from that very face, and only the program's thickness counts.
double skin_over_board_mm(const Setup& setup, const Box& box);

/// The finding "board-too-thin": `counted_on_mm` is the wall that can be counted on as computed,
/// `holds` whether it was judged to hold. Unproven where that rests on wood that may not be there.
std::vector<Notice> thin_board_findings(const Setup& setup, const Box& box, double counted_on_mm,
                                        double limit_mm, bool holds);

/// Throws InputError with both numbers when the piece (`box`, model space, with
/// `setup.top_z_mm`) is certainly deeper than the board is thick; `units`: of the job, for the
/// message.
void require_thick_enough_board(const Setup& setup, const Box& box, LengthUnit units);

/// What the unit mistake and the forgotten shift look like: codes model-off-board and
/// model-deeper-than-board.
std::vector<Notice> board_mistakes(const Setup& setup, const Box& box);

} // namespace leastwall
