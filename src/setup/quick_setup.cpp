#include "setup/quick_setup.h"

#include "base/assumption.h"
#include "base/errors.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

void require(double value_mm, const char* flag) {
  if (!std::isfinite(value_mm) || value_mm < 0)
    throw InputError(fmt::format("{} must be 0 or more mm, not {}: give the size without a sign, "
                                 "both directions are counted",
                                 flag, value_mm));
}

} // namespace

Setup quick_setup(const QuickFlags& flags, std::vector<Assumption>& assumptions) {
  require(flags.z_zero_mm, "--z-zero");
  require(flags.bed_flatness_mm, "--bed-flatness");
  Setup setup;
  setup.inner.touch_off = {flags.z_zero_mm, Knowledge::limits};
  setup.outer.touch_off = {flags.z_zero_mm, Knowledge::limits};
  setup.bed.flatness_mm = flags.bed_flatness_mm;
  note(assumptions, "both sides are zeroed on top of the board");
  note(assumptions, "the board is exactly as thick as the programs assume");
  note(assumptions, "the flip puts the board back exactly");
  note(assumptions, "bits are exact and nothing is sanded");
  return setup;
}

} // namespace leastwall
