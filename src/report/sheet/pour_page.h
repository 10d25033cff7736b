// A page of the setup sheet for the resin of one pocket: lifts, what to measure out, blanks.
#pragma once

#include "report/pour/pour.h"
#include "report/sheet/sheet_paper.h"

#include <cstddef>
#include <string>

namespace leastwall {

/// Draws it on the current page, upright. `page`: "Page 2 of 5.".
void draw_pour_page(SheetPaper& paper, const Pour& pour, std::size_t row, const std::string& page,
                    bool inch);

} // namespace leastwall
