// Causes of error in shop words. No number comes from here and nothing goes by these words.
#pragma once

#include "budget/budget_rows.h"
#include "causes/model/cause_id.h"

#include <string>

namespace leastwall {

/// "touch-off"; its side is told elsewhere.
std::string cause_text(const CauseId& id);

/// "touch-off of side A", "bed under side B", "sanding, side A".
std::string cause_text_with_side(const CauseId& id);

/// For narrow tables: "touch-off, A".
std::string cause_text_short(const CauseId& id);

/// What is known of it, e.g. "+-0.050 mm", "u 0.010 mm", "from readings".
std::string known_text(const CauseRow& cause);

/// The same for people: "standard 0.010 mm" where the other says "u 0.010 mm".
std::string known_words(const CauseRow& cause);

} // namespace leastwall
