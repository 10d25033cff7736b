// Ratios and slopes as people write them.
#pragma once

#include <optional>
#include <string_view>
#include <utility>

namespace leastwall {

/// "2:1", "100 : 45", "1:0.83" (or 1:0,83): both over 0, up to a million. Absent when the text is
/// anything else.
std::optional<std::pair<double, double>> ratio_from_text(std::string_view text);

/// "2 mm/m", "2 mm per m", "0.25 in/ft", "0.1 deg", "0.2 %": the fall for each mm of the way, over
/// 0 and at most that of 20 degrees. Absent when the text is anything else; a bare number, too.
std::optional<double> slope_from_text(std::string_view text);

} // namespace leastwall
