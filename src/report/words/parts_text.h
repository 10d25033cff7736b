// The parts of a job in words: room on the board, and the seam of two halves.
#pragma once

#include "parts/board_row.h"
#include "parts/seam_row.h"

#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

/// "part", "board-edge", "flip-dowel": the words in JSON.
std::string_view gap_key(BoardRow::GapTo to);

/// Sentences with lengths in mm: where parts lie, and what reaches beyond board or bed; none where
/// nothing is known.
std::vector<std::string> board_sentences(const BoardRow& board);

/// Sentences with lengths in mm.
std::vector<std::string> seam_sentences(const SeamRow& seam);

} // namespace leastwall
