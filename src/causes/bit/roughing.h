// Marks of the roughing bit in the final surface.
#pragma once

#include "causes/model/cause.h"
#include "causes/model/cuts.h"

#include <vector>

namespace leastwall {

/// Roughing leaves an allowance g, but it hangs from a touch of its own. With f the finishing bit's
/// vertical error and r the roughing bit's (positive = too shallow) the surface is
/// min(f, g + r) = f + min(0, g + r - f): a second, one-sided error that counts only when the
/// allowance is smaller than the spread of r - f. What both bits share cancels in r - f: the touch
/// plate always. With d the touch-off of the side, s_1 and s_2 readings of a setter, c the
/// finishing bit's tip height:
/// * every bit touches the datum:              r its own touch, f = d + c: r - f = r - d - c.
/// * tool setter, no touch of roughing stated: the roughing bit touches the datum, r = d, and the
///   setter reads both bits, f = d + s_1 + s_2 + c: r - f = -(s_1 + s_2) - c. Two readings, no
///   datum. (With a third bit on the datum both lengths come from the setter: r - f = s_r - s_f -
///   c, again two readings and no datum.)
/// * tool setter, a touch of roughing stated:  it touches on its own beside the datum bit, so that
///   nothing is shared: r - f = r - d - s_1 - s_2 - c.
/// Call after the side's touch-off and tip height, whose errors f is made of.
void add_roughing(const CutView& cut, std::vector<Cause>& causes);

} // namespace leastwall
