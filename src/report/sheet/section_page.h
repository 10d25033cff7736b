// A page of the setup sheet: the thinnest place cut through, with its numbers and where it lies on
// each side.
#pragma once

#include "report/sheet/setup_sheet.h"

#include <string>

namespace leastwall {

/// Draws `input.section`, which must be there, on the current page, upright. `page`: "Page 3
/// of 5.". Throws RunError where nothing was measured.
void draw_section_page(SheetPaper& paper, const SetupSheetInput& input, const std::string& page,
                       bool inch);

} // namespace leastwall
