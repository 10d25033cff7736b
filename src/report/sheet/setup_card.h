// The card of a job: what the eye needs at the machine, set-up by set-up, in large type. It takes
// the place of no sheet: what is warned of is counted on it, and read there.
#pragma once

#include "report/sheet/setup_sheet.h"

#include <span>
#include <string>

namespace leastwall {

/// A set-up on the card: the sheet's facts of one side.
struct CardStep {
  const SetupSheetInput* input;
  Side side = Side::a;
};

inline constexpr std::size_t kCardSteps = 4; ///< on one page

/// The bytes of the file, a page for every four set-ups; the same input gives the same bytes.
/// Title, verdict and least wall are those of `whole`. Throws RunError.
std::string setup_card(const CheckReport& whole, std::span<const CardStep> steps,
                       const SetupSheetOptions& options);

} // namespace leastwall
