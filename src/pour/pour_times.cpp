#include "pour/pour_times.h"

#include <algorithm>

namespace leastwall {

std::vector<PourTimes> pour_times(const std::vector<PourTask>& tasks) {
  std::vector<PourTimes> out(tasks.size());
  std::size_t last = 0;
  for (const PourTask& task : tasks)
    last = std::max(last, task.stage);
  std::optional<double> start = 0.0;
  for (std::size_t stage = 0; stage <= last; ++stage) {
    std::optional<double> ready = start;
    for (std::size_t i = 0; i < tasks.size(); ++i) {
      const PourTask& task = tasks[i];
      if (task.stage != stage)
        continue;
      PourTimes& times = out[i];
      times.starts_h = start;
      const std::size_t lifts = task.lifts.value_or(0);
      for (std::size_t lift = 0; lift < lifts; ++lift)
        times.lift_h.push_back(
            lift == 0 ? start
            : start && task.hours_between_lifts
                ? std::optional(*start + static_cast<double>(lift) * *task.hours_between_lifts)
                : std::nullopt);
      if (!times.lift_h.empty() && times.lift_h.back() && task.hours_until_cut)
        times.may_be_cut_h = *times.lift_h.back() + *task.hours_until_cut;
      ready = ready && times.may_be_cut_h ? std::optional(std::max(*ready, *times.may_be_cut_h))
                                          : std::nullopt;
    }
    start = ready;
  }
  return out;
}

} // namespace leastwall
