// A page of the setup sheet for the resin of one pocket: lifts, what to measure out, blanks.
#pragma once

#include "report/pour/pour.h"
#include "report/sheet/setup_sheet.h"
#include "report/sheet/sheet_paper.h"

#include <cstddef>
#include <string>

namespace leastwall {

/// What a page pours.
struct PouredHere {
  std::size_t row = 0; ///< of the report
  /// The clamping that it follows. Of several boards its board alone is poured; null: all.
  const SheetStep* step = nullptr;
};

/// Draws it on the current page, upright. `page`: "Page 2 of 5.".
void draw_pour_page(SheetPaper& paper, const Pour& pour, const PouredHere& here,
                    const std::string& page, bool inch);

} // namespace leastwall
