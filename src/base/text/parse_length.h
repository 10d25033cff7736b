// Lengths as people write them.
#pragma once

#include "base/units.h"

#include <optional>
#include <string>
#include <string_view>

namespace leastwall {

/// A number at the front of a text.
struct TakenNumber {
  double value = 0;
  bool fraction = false; ///< written as 1/32: only inches are
};

/// Takes a number off the front of `text`: "0.8", "0,8", "1e-3", "1/32", "1 1/4", "1-1/4", each
/// with a sign or without. Whatever the locale, a point or one comma is the decimal mark; a comma
/// before just three digits ("1,250") may part thousands, so that is absent as what is no finite
/// number is.
std::optional<TakenNumber> take_number(std::string_view& text);

/// "0.8", "0.8mm", "0.8 mm", "0.03in", "1/32 in", "1.2 thou" (thousandths of an inch) to mm; a bare
/// number is in `bare`. Absent when it is not one finite length and nothing else.
std::optional<double> length_from_text(std::string_view text, LengthUnit bare = LengthUnit::mm);

/// For a text that is no length: what about it is likely wrong and what to write, as "the letter O
/// stands where the digit 0 belongs: write 0.05". Empty when nothing is likely.
std::string length_fault(std::string_view text, LengthUnit bare = LengthUnit::mm);

} // namespace leastwall
