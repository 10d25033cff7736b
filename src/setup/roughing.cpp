#include "setup/roughing.h"

#include "base/errors.h"
#include "setup/cause_terms.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

// An error of the finishing bit's height that the roughing bit does not share.
bool not_shared(const Cause& cause, const Roughing& roughing) {
  if (cause.finishing_bit_alone)
    return true;
  return roughing.touch_off && cause.key == "touch-off";
}

} // namespace

void add_roughing(const Setup& setup, Side side, std::vector<Cause>& causes) {
  const SideSetup& s = side_of(setup, side);
  if (!s.roughing)
    return;
  if (!std::isfinite(s.roughing->allowance_mm) || s.roughing->allowance_mm < 0)
    throw InputError(fmt::format("the roughing allowance of {} must be 0 or more mm, not {}",
                                 side_words(side), s.roughing->allowance_mm));
  const Uncertain own = s.roughing->touch_off.value_or(Uncertain{});
  Cause cause = vertical_cause("roughing", "roughing marks, " + side_words(side), side, own,
                               side_key(setup, side, "roughing.touch_off"));
  cause.distribution = Distribution::overtaken;
  cause.normal_roughing = own.knowledge == Knowledge::standard;
  cause.allowance_mm = s.roughing->allowance_mm;
  for (std::size_t i = 0; i < causes.size(); ++i)
    if (causes[i].side == side && not_shared(causes[i], *s.roughing))
      cause.finishing.push_back(i);
  if (cause.size != 0 || !cause.finishing.empty())
    causes.push_back(cause);
}

} // namespace leastwall
