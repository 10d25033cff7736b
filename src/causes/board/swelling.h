// Wood swells or shrinks between side A and side B.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// The board swells by a fraction s through its thickness after the pocket is cut (moisture gain
/// times the coefficient of the wood, its own or the species' in the Wood Handbook along the grain
/// direction that runs through the thickness; shrinking is negative). With d the depth of the floor
/// below the pocket face, u the floor's height above the skin face of the board as it is, T = d +
/// u:
/// * B zeroed on the bed: the skin is cut at its place above the pocket face, the floor has moved
///   from d to d (1 + s) away from it: wall -s d = -s (T - u);
/// * B zeroed on top: the skin face is s T higher, the cut follows it, the floor only s d: +s u.
/// Products with other errors (s tau, a few micrometres at most) are left out. The swelling of the
/// finished wall itself is left out too.
/// Throws InputError when moisture changes and nothing gives the coefficient, or the board's
/// thickness is not known and matters.
void add_swelling(const Setup& setup, std::vector<Cause>& causes,
                  std::vector<Assumption>& assumptions);

} // namespace leastwall
