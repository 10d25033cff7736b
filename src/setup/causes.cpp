#include "setup/causes.h"

#include "setup/bed_flatness.h"
#include "setup/touch_off.h"

namespace leastwall {

std::vector<Cause> causes_of(const Setup& setup, std::vector<std::string>&) {
  std::vector<Cause> causes;
  for (const Side side : {Side::a, Side::b}) {
    add_touch_off(setup, side, causes);
    add_bed_flatness(setup, side, causes);
  }
  return causes;
}

} // namespace leastwall
