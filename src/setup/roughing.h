// Marks of the roughing bit in the final surface.
#pragma once

#include "setup/cause.h"
#include "setup/setup.h"

#include <vector>

namespace leastwall {

/// Roughing leaves an allowance g, but it hangs from a touch of its own. With f the finishing bit's
/// vertical error and r the roughing bit's (positive = too shallow) the surface is
/// min(f, g + r) = f + min(0, g + r - f): a second, one-sided error that counts only when the
/// allowance is smaller than the spread of r - f. What both bits share cancels in r - f: the touch
/// plate always; with a tool setter also the datum touch and the datum bit's reading.
/// Call after the side's touch-off and tip height, whose errors f is made of.
void add_roughing(const Setup& setup, Side side, std::vector<Cause>& causes);

} // namespace leastwall
