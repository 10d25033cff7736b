#include "causes/bit/touch_off.h"

#include "causes/model/cause_terms.h"

#include <cstdint>

namespace leastwall {

void add_touch_off(const CutView& cut, std::vector<Cause>& causes) {
  const SideSetup& s = cut.how;
  const bool setter = s.bit.zero == BitZero::tool_setter;
  if (s.touch_off.size_mm != 0) {
    causes.push_back(vertical_cause(CauseKind::touch_off, cut, s.touch_off, "touch_off"));
    causes.back().finishing_bit_alone = !setter;
  }
  if (setter && s.bit.setter.size_mm != 0)
    for (const std::uint32_t bit : {0u, 1u}) { // the one on the datum, the finishing bit
      causes.push_back(
          vertical_cause(CauseKind::tool_setter, cut, s.bit.setter, "bit.setter_error"));
      causes.back().id.instance = bit;
      causes.back().finishing_bit_alone = true; // both readings place it, none the roughing bit
    }
  if (s.plate_error_mm != 0) {
    Cause plate = vertical_cause(CauseKind::touch_plate, cut, {s.plate_error_mm, Knowledge::limits},
                                 "plate_error");
    plate.distribution = Distribution::shift;
    causes.push_back(plate);
  }
}

} // namespace leastwall
