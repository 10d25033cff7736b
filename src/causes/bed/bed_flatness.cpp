#include "causes/bed/bed_flatness.h"

#include "causes/model/cause_terms.h"

namespace leastwall {

void add_bed_flatness(const Setup& setup, Side side, std::vector<Cause>& causes) {
  if (setup.bed.readings || setup.bed.flatness_mm.value_or(0) == 0)
    return;
  Cause cause = vertical_cause({CauseKind::bed_flatness, side},
                               {*setup.bed.flatness_mm, Knowledge::limits}, "bed.flatness");
  cause.on_pad = OnPad::difference_within;
  causes.push_back(cause);
}

} // namespace leastwall
