// The tip of a bit does not stand where the machine believes.
#pragma once

#include "causes/model/cause.h"
#include "setup/setup.h"

#include <vector>

namespace leastwall {

/// Tip-height error c of the bit that makes the final surface of a side, positive = tip too high:
/// the whole surface is cut c too shallow, E = +c.
void add_tip_height(const Setup& setup, Side side, std::vector<Cause>& causes);

} // namespace leastwall
