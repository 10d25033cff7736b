// Values written as text: lengths with a unit, and chances.
#pragma once

#include "base/units.h"

#include <optional>
#include <string_view>

namespace leastwall {

/// "0.05 mm", "0,05 mm", "50 um", "0.002 in", "1/32 in", "2 thou" or "0.002\"" in mm; a blank
/// before the unit may be left out. A text that is a bare number counts in `unit`. Absent when the
/// text is anything else. Numbers are read by take_number (base/text/parse_length.h), whatever the
/// locale.
std::optional<double> parse_length_mm(std::string_view text, LengthUnit unit);

/// "1 in 20" as 0.05. Absent when the text is anything else or the chance is not within 0..1.
std::optional<double> parse_chance(std::string_view text);

} // namespace leastwall
