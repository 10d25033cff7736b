#include "budget/rocking.h"

#include "setup/cause_terms.h"
#include "setup/causes.h"
#include "setup/place.h"
#include "setup/resting_tilts.h"

#include <fmt/format.h>
#include <string>

namespace leastwall {
namespace {

std::string place_words(const Vec3& p) {
  return fmt::format("x {:.1f} y {:.1f}", p.x, p.y);
}

std::string over_words(const std::vector<Vec3>& over) {
  if (over.size() == 1)
    return "the high place under its middle, " + place_words(over[0]);
  if (over.size() == 2)
    return "two high places, " + place_words(over[0]) + " and " + place_words(over[1]);
  return "several high places under its middle";
}

std::string cost_words(double gain_mm) {
  if (gain_mm >= 0.005)
    return fmt::format("press it flat: {:+.2f} mm at the thinnest place", gain_mm);
  return "press it flat onto the bed, or shim it; here that gains nothing at the thinnest place";
}

} // namespace

std::vector<Notice> rocking_notices(const Setup& setup, std::span<const WallSample> samples,
                                    const OutcomeOptions& options, const Outcome& now,
                                    const RunContext& run) {
  std::vector<Notice> notices;
  if (!setup.bed.readings || setup.bed.seating == Seating::pressed)
    return notices;
  std::optional<double> gain_mm; // of pressing it flat on both sides
  for (const Side side : {Side::a, Side::b}) {
    const std::optional<RestingTilts> tilts =
        resting_tilts(*setup.bed.readings, footprint_on_bed(setup, side));
    if (!tilts || !tilts->rocks)
      continue;
    if (!gain_mm) {
      Setup pressed = setup;
      pressed.bed.seating = Seating::pressed;
      std::vector<std::string> assumptions;
      const std::vector<Cause> causes = causes_of(pressed, assumptions);
      gain_mm = outcome_of(causes, samples, options, run).holding_mm - now.holding_mm;
    }
    notices.push_back(
        {"board-rocks",
         fmt::format("The board rocks on {}{}: it can tip over {} of the bed, and every way it can "
                     "lie is counted; {}.",
                     side_text(side),
                     setup.bed.seating == Seating::rigid ? "" : ", if it is stiff",
                     over_words(tilts->over), cost_words(*gain_mm))});
  }
  return notices;
}

} // namespace leastwall
