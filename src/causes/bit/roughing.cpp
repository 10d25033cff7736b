#include "causes/bit/roughing.h"

#include "base/errors.h"
#include "causes/model/cause_terms.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

// An error of the finishing bit's height that the roughing bit does not share.
bool not_shared(const Cause& cause, const Roughing& roughing) {
  if (cause.finishing_bit_alone)
    return true;
  return roughing.touch_off && cause.id.kind == CauseKind::touch_off;
}

} // namespace

void add_roughing(const CutView& cut, std::vector<Cause>& causes) {
  const SideSetup& s = cut.how;
  if (!s.roughing)
    return;
  if (!std::isfinite(s.roughing->allowance_mm) || s.roughing->allowance_mm < 0)
    throw InputError(fmt::format("the roughing allowance of {} must be 0 or more mm, not {}",
                                 side_text(cut.id.side), s.roughing->allowance_mm));
  const Uncertain own = s.roughing->touch_off.value_or(Uncertain{});
  Cause cause = vertical_cause(CauseKind::roughing, cut, own, "roughing.touch_off");
  RoughingOvercut overcut{s.roughing->allowance_mm, {}};
  for (std::size_t i = 0; i < causes.size(); ++i)
    if (causes[i].id.side == cut.id.side && causes[i].id.set_up == cut.id.touch &&
        not_shared(causes[i], *s.roughing))
      overcut.finishing.push_back(i);
  if (cause.size == 0 && overcut.finishing.empty())
    return;
  cause.overcut = std::move(overcut);
  causes.push_back(cause);
}

} // namespace leastwall
