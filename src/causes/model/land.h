// The land: walls between the skin and the pocket face itself, beside the pocket. The board ends
// there, side A does not cut it.
#pragma once

#include "causes/model/cause.h"
#include "setup/setup.h"

#include <functional>
#include <vector>

namespace leastwall {

/// Whether the other face of a wall is the pocket face: straight above the skin and at its height.
/// Never where the set-up has no land, always where all of it is (Setup::all_land).
std::function<bool(const WallSample&)> land_of(const Setup& setup);

/// Takes side A's causes from the land: neither what makes them thicker there nor thinner is so.
/// What puts the board out of place sideways stays: straight down it does nothing.
void spare_land(const Setup& setup, std::vector<Cause>& causes);

} // namespace leastwall
