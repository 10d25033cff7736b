#include "setup/roughing.h"

#include "base/errors.h"
#include "setup/cause_terms.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

bool only_finishing(const Cause& cause, BitZero zero) {
  if (cause.key == "tip-height")
    return true;
  if (zero == BitZero::retouched)
    return cause.key == "touch-off";
  return cause.key == "tool-setter" && cause.name.find("finishing") != std::string::npos;
}

} // namespace

void add_roughing(const Setup& setup, Side side, std::vector<Cause>& causes) {
  const SideSetup& s = side_of(setup, side);
  if (!s.roughing)
    return;
  if (!std::isfinite(s.roughing->allowance_mm) || s.roughing->allowance_mm < 0)
    throw InputError(fmt::format("the roughing allowance of {} must be 0 or more mm, not {}",
                                 side_words(side), s.roughing->allowance_mm));
  Cause cause = vertical_cause("roughing", "roughing marks, " + side_words(side), side,
                               s.roughing->touch_off);
  cause.distribution = Distribution::overtaken;
  cause.normal_roughing = s.roughing->touch_off.knowledge == Knowledge::standard;
  cause.allowance_mm = s.roughing->allowance_mm;
  for (std::size_t i = 0; i < causes.size(); ++i)
    if (causes[i].side == side && only_finishing(causes[i], s.bit.zero))
      cause.finishing.push_back(i);
  if (cause.size != 0 || !cause.finishing.empty())
    causes.push_back(cause);
}

} // namespace leastwall
