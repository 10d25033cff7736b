// The board as it lies on the machine, to scale, on the setup sheet.
#pragma once

#include "report/draw/label_places.h"
#include "report/maps/side_marks.h"
#include "report/sheet/setup_sheet.h"

namespace leastwall {

/// Program coordinates of a side on paper: x right, y up.
struct PaperFrame {
  double left = 0, bottom = 0; ///< paper place of program x low.x, y low.y, mm
  double scale = 1;            ///< mm of paper a mm
  Point2 low;                  ///< program coordinates there
  PicturePoint on(Point2 p) const {
    return {left + (p.x - low.x) * scale, bottom - (p.y - low.y) * scale};
  }
};

/// What stands where on a page of the sheet.
SideMarks sheet_marks(const SetupSheetInput& input, Side side);

/// Which way the bit lies that is drawn with its point on the touch point, of length 1: up on the
/// paper, as a bit stands; right, left or down where it would cover the mark of a dowel.
PicturePoint bit_way(const PaperFrame& frame, const SideMarks& marks);

/// Board outline (dashed for the part alone, where there is one), flip line, dowels, origin, touch
/// point and pad, without their names. What is drawn is kept clear of labels.
void draw_marks(SheetPaper& paper, const PaperFrame& frame, const SideMarks& marks,
                LabelPlaces& labels, bool one_piece = true);

/// Names beside the marks.
void name_marks(SheetPaper& paper, const PaperFrame& frame, const SideMarks& marks,
                bool flip_stated, LabelPlaces& labels, bool one_piece = true);

/// Number of a thin place and its wall, in a box joined to the place.
void name_place(SheetPaper& paper, const std::string& number, const std::string& wall,
                PicturePoint at, LabelPlaces& labels);

/// The drawing of the sheet, inside the given room, with the first `numbered` thin places.
void draw_board(SheetPaper& paper, const SetupSheetInput& input, Side side, const LabelBox& room,
                std::size_t numbered);

} // namespace leastwall
