#include "causes/bit/touch_off.h"

#include "causes/model/cause_terms.h"

#include <cstdint>

namespace leastwall {

void add_touch_off(const Setup& setup, Side side, std::vector<Cause>& causes) {
  const SideSetup& s = side_of(setup, side);
  const bool setter = s.bit.zero == BitZero::tool_setter;
  if (s.touch_off.size_mm != 0) {
    causes.push_back(vertical_cause({CauseKind::touch_off, side}, s.touch_off,
                                    side_key(setup, side, "touch_off")));
    causes.back().finishing_bit_alone = !setter;
  }
  if (setter && s.bit.setter.size_mm != 0)
    for (const std::uint32_t bit : {0u, 1u}) { // the one on the datum, the finishing bit
      causes.push_back(vertical_cause({CauseKind::tool_setter, side, bit}, s.bit.setter,
                                      side_key(setup, side, "bit.setter_error")));
      causes.back().finishing_bit_alone = true; // both readings place it, none the roughing bit
    }
  if (s.plate_error_mm != 0) {
    Cause plate =
        vertical_cause({CauseKind::touch_plate, side}, {s.plate_error_mm, Knowledge::limits},
                       side_key(setup, side, "plate_error"));
    plate.distribution = Distribution::shift;
    causes.push_back(plate);
  }
}

} // namespace leastwall
