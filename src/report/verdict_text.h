// The verdict in words that text, picture and page share.
#pragma once

#include "report/check_report.h"

#include <string>

namespace leastwall {

/// Large type: "EVERY WALL HOLDS", "AT RISK", "TOO THIN" or "CUT THROUGH".
std::string verdict_banner(Verdict verdict);

/// "0.130 mm", or for a wall of zero or less "hole, 0.420 mm too deep". With `inch` inches follow
/// in brackets.
std::string wall_words(double wall_mm, double limit_mm, bool inch);

/// What a change costs, for advice: "costs nothing" for "free", "some work", "a change of the
/// model".
std::string cost_words(const std::string& cost);

/// One sentence: what is the matter, how thin, where, against which limit. With `inch` the walls
/// are followed by inches in brackets.
std::string verdict_sentence(const CheckReport& report, bool inch);

} // namespace leastwall
