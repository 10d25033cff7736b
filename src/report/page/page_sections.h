// Sections through the thinnest places, as facts that the page draws.
#pragma once

#include "report/json/json_values.h"
#include "report/page/page.h"

namespace leastwall {

/// One for the thinnest place and for each of the first thin places: `outer`, `inner`, what bounds
/// the wall; `at`, the place on the skin;
/// `width` and `height` of the window, mm; `skin` and `pocket`, four numbers a piece (mm along the
/// plane and up from the window's middle, twice); `ends` of the wall; `out`, the wall's direction.
/// Empty without a measurement.
Json page_sections(const PageInput& input);

} // namespace leastwall
