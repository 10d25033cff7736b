#include "budget/advice/rocking.h"

#include "base/assumption.h"
#include "bed/seat/resting_tilts.h"
#include "causes/causes.h"
#include "causes/model/cause_terms.h"
#include "setup/place.h"

#include <fmt/format.h>
#include <string>

namespace leastwall {
namespace {

std::string point_text(const Vec3& p) {
  return fmt::format("x {:.1f} y {:.1f}", p.x, p.y);
}

std::string over_text(const std::vector<Vec3>& over) {
  if (over.size() == 1)
    return "the high place under its middle, " + point_text(over[0]);
  if (over.size() == 2)
    return "two high places, " + point_text(over[0]) + " and " + point_text(over[1]);
  return "several high places under its middle";
}

std::string cost_text(double gain_mm) {
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
      std::vector<Assumption> assumptions;
      const std::vector<Cause> causes = causes_of(pressed, assumptions);
      gain_mm = outcome_of(causes, samples, options, run).guaranteed_mm - now.guaranteed_mm;
    }
    notices.push_back(
        {"board-rocks",
         fmt::format("The board rocks on {}{}: it can tip over {} of the bed, and every way it can "
                     "lie is counted; {}.",
                     side_text(side), setup.bed.seating == Seating::rigid ? "" : ", if it is stiff",
                     over_text(tilts->over), cost_text(*gain_mm)),
         Severity::warning, side == Side::a ? NoticeAbout::side_a : NoticeAbout::side_b});
  }
  return notices;
}

} // namespace leastwall
