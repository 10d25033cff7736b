// The tip of a bit does not stand where the machine believes.
#pragma once

#include "causes/model/cause.h"
#include "causes/model/cuts.h"

#include <vector>

namespace leastwall {

/// Tip-height error c of the bit that makes the final surface of a side, positive = tip too high:
/// the whole surface is cut c too shallow, E = +c.
void add_tip_height(const CutView& cut, std::vector<Cause>& causes);

} // namespace leastwall
