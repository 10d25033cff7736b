// The thin places of a wall as a table for a terminal.
#pragma once

#include "report/check_report.h"
#include "report/text/text_report.h"

#include <cstddef>
#include <string>

namespace leastwall {

/// Thin places that a text lists.
std::size_t listed_places(const WallReport& wall, const TextOptions& options);

/// A heading, then a row for each of the `listed_places`, thinnest first; "and 3 more" below.
/// Where there is none, a sentence that says so.
std::string place_table(const WallReport& wall, const TextOptions& options);

} // namespace leastwall
