#include "budget/chance_row.h"

#include "budget/trials/binomial_interval.h"

namespace leastwall {

ChanceRow chance_row(std::uint64_t under, std::uint64_t through, std::uint64_t trials) {
  ChanceRow row;
  row.trials = trials;
  const auto n = static_cast<double>(trials);
  row.under_limit = static_cast<double>(under) / n;
  row.cut_through = static_cast<double>(through) / n;
  const Interval u = clopper_pearson(under, trials), t = clopper_pearson(through, trials);
  row.under_limit_low = u.low;
  row.under_limit_high = u.high;
  row.cut_through_low = t.low;
  row.cut_through_high = t.high;
  return row;
}

} // namespace leastwall
