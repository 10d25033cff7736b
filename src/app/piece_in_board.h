// The model against the board it is to be cut from.
#pragma once

#include "base/notice.h"
#include "base/units.h"
#include "geometry/box.h"
#include "setup/setup.h"

#include <optional>
#include <vector>

namespace leastwall {

/// The thickest that the board can be, mm: as measured (the highest
/// reading), else as stated, with its error (two
/// standard uncertainties where it is stated as one) and what it varies from place to place.
/// Absent when nobody said how thick it is.
std::optional<double> thickest_board_mm(const Board& board);

/// Throws InputError with both numbers when the piece (`box`, model space, with
/// `setup.top_z_mm`) is certainly deeper than the board is thick; `units`: of the job, for the
/// message.
void require_thick_enough_board(const Setup& setup, const Box& box, LengthUnit units);

/// What the unit mistake and the forgotten shift look like: codes model-off-board and
/// model-deeper-than-board.
std::vector<Notice> board_mistakes(const Setup& setup, const Box& box);

} // namespace leastwall
