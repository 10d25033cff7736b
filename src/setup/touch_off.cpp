#include "setup/touch_off.h"

#include "setup/cause_terms.h"

#include <fmt/format.h>

namespace leastwall {

void add_touch_off(const Setup& setup, Side side, std::vector<Cause>& causes) {
  const SideSetup& s = side_of(setup, side);
  const bool setter = s.bit.zero == BitZero::tool_setter;
  if (s.touch_off.size_mm != 0) {
    causes.push_back(vertical_cause("touch-off", "touch-off of " + side_words(side), side,
                                    s.touch_off, side_key(setup, side, "touch_off")));
    causes.back().finishing_bit_alone = !setter;
  }
  if (setter && s.bit.setter.size_mm != 0)
    for (const char* bit : {"datum", "finishing"}) {
      causes.push_back(vertical_cause(
          "tool-setter", fmt::format("tool setter, {} bit, {}", bit, side_words(side)), side,
          s.bit.setter, side_key(setup, side, "bit.setter_error")));
      causes.back().finishing_bit_alone = true; // both readings place it, none the roughing bit
    }
  if (s.plate_error_mm != 0) {
    Cause plate =
        vertical_cause("touch-plate", "touch plate, " + side_words(side), side,
                       {s.plate_error_mm, Knowledge::limits}, side_key(setup, side, "plate_error"));
    plate.distribution = Distribution::shift;
    causes.push_back(plate);
  }
}

} // namespace leastwall
