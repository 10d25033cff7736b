#include "setup/touch_off.h"

#include "setup/cause_terms.h"

namespace leastwall {

void add_touch_off(const Setup& setup, Side side, std::vector<Cause>& causes) {
  const SideSetup& s = side_of(setup, side);
  if (s.touch_off.size_mm != 0)
    causes.push_back(
        vertical_cause("touch-off", "touch-off of " + side_words(side), side, s.touch_off));
  if (s.bit.zero == BitZero::tool_setter && s.bit.setter.size_mm != 0) {
    causes.push_back(vertical_cause("tool-setter", "tool setter, datum bit, " + side_words(side),
                                    side, s.bit.setter));
    causes.push_back(vertical_cause(
        "tool-setter", "tool setter, finishing bit, " + side_words(side), side, s.bit.setter));
  }
  if (s.plate_error_mm != 0) {
    Cause plate = vertical_cause("touch-plate", "touch plate, " + side_words(side), side,
                                 {s.plate_error_mm, Knowledge::limits});
    plate.distribution = Distribution::shift;
    causes.push_back(plate);
  }
}

} // namespace leastwall
