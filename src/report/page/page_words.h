// The words that the page fills in anew when a slider moves or the unit changes: made here, so that
// the page's script has none of its own for what the program says too.
#pragma once

#include "report/check_report.h"
#include "report/json/json_values.h"

namespace leastwall {

/// By key: "verdicts" and "costs" inside a sentence, "ways" of the distributions beside a slider,
/// "sentences" of the verdicts with {names} to be filled in, "at_least".
Json page_words();

/// The report's sentences that hold lengths, as in inches: text in mm -> text. Advice, warnings,
/// assumptions, what was not checked, the finding.
Json words_in_inches(const CheckReport& report);

/// The finding alone: of a wall of a job that says the rest itself.
Json finding_in_inches(const CheckReport& report);

} // namespace leastwall
