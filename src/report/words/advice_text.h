// A change that would help, as a line.
#pragma once

#include "budget/advice/advice_row.h"
#include "report/words/length_text.h"

#include <cstddef>
#include <string>

namespace leastwall {

/// So many changes stand right under the verdict, in text and page.
inline constexpr std::size_t kBestChanges = 2;

/// "Zero side B on the bed (+0.125 mm, then safe; costs nothing)", without a full stop.
std::string advice_text(const AdviceRow& advice, const LengthText& words);

} // namespace leastwall
