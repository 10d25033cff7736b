// Resurface the spoilboard or not, for one piece.
#pragma once

#include "budget/advice/advice.h"
#include "budget/advice/resurface_row.h"
#include "budget/trials/outcome.h"
#include "setup/setup.h"

#include <optional>
#include <span>

namespace leastwall {

/// Left to take below the lowest place, so that the cutter leaves no island, mm.
inline constexpr double kSurfacingSpare = 0.1;

/// Compares the piece on the bed as it is with both sides cut on a resurfaced one, and with `tried`
/// (free changes; may be empty when `now` is safe). Absent when nothing is known of the bed: no
/// readings, and no flatness above 0. All walls lie on one bed. Throws InputError for a
/// tram that cannot be; Cancelled.
std::optional<ResurfaceRow> judge_resurfacing(std::span<const WallOfJob> walls,
                                              const OutcomeOptions& options, const Outcome& now,
                                              std::span<const Tried> tried, const RunContext& run);

/// The set-up with the bed resurfaced before side A, both sides cut on it.
Setup with_resurfaced_bed(const Setup& setup);

/// Whether spoilboard, screws and dowel holes, as far as stated, allow the depth to take.
bool can_be_resurfaced(const Setup& setup);

/// Highest minus lowest place of the bed under the board as it lies on side A and on side B; the
/// stated flatness where there are no readings.
double flatness_under_board(const Setup& setup);

} // namespace leastwall
