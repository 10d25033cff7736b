// The thin places at full size, to lay on the board.
#pragma once

#include "report/sheet/setup_sheet.h"

#include <vector>

namespace leastwall {

/// How the thin places of a side go on paper.
struct OverlayPlan {
  struct Tile {
    double left = 0, top = 0; ///< program coordinates of the tile's upper left corner, mm
    int column = 0, row = 0;
  };
  bool lying = false;
  double head = 0;  ///< mm at the top of a page: title, and what the piece is warned of
  double scale = 1; ///< mm of paper a mm; 1 wherever that can be
  double room_w = 0, room_h = 0; ///< drawing room on each page, mm of paper
  int columns = 1, rows = 1;
  std::vector<Tile> tiles; ///< row by row; only those that hold a thin place
};

OverlayPlan plan_overlay(const SetupSheetInput& input, Side side, PaperSize paper, bool inch);

/// Draws one tile on the current page.
void draw_overlay(SheetPaper& paper, const SetupSheetInput& input, Side side,
                  const OverlayPlan& plan, std::size_t tile, const std::string& page, bool inch);

} // namespace leastwall
