// When each lift may be poured, and when the board may go on.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace leastwall {

/// A pocket as its schedule sees it.
struct PourTask {
  std::size_t stage = 0; ///< pockets of one stage are poured together, a later one when all before
                         ///< may be cut
  std::optional<std::size_t> lifts;          ///< absent: not known how many
  std::optional<double> hours_between_lifts; ///< not needed for one lift
  std::optional<double> hours_until_cut;
};

/// Hours after the first lift of the job; absent where the stated values do not tell.
struct PourTimes {
  std::optional<double> starts_h;
  std::vector<std::optional<double>> lift_h;
  std::optional<double> may_be_cut_h;
};

/// Cutting takes no time here: each stage begins as soon as it may.
std::vector<PourTimes> pour_times(const std::vector<PourTask>& tasks);

} // namespace leastwall
