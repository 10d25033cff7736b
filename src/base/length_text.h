// Lengths as people write them.
#pragma once

#include "base/units.h"

#include <optional>
#include <string_view>

namespace leastwall {

/// "0.8", "0.8mm", "0.8 mm", "0.03in", "0.03 inch", "1.2 thou" (thousandths of an inch) to mm; a
/// bare number is in `bare`. Decimal point only, whatever the locale. Absent when it is not one
/// finite length and nothing else.
std::optional<double> length_from_text(std::string_view text, LengthUnit bare = LengthUnit::mm);

} // namespace leastwall
