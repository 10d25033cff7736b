#include "causes/bit/tip_height.h"

#include "causes/model/cause_terms.h"

namespace leastwall {

void add_tip_height(const CutView& cut, std::vector<Cause>& causes) {
  const Uncertain& tip = cut.how.bit.tip_height;
  if (tip.size_mm == 0)
    return;
  causes.push_back(vertical_cause(CauseKind::tip_height, cut, tip, "bit.tip_height"));
  causes.back().finishing_bit_alone = true;
}

} // namespace leastwall
