// Runout and flex of a bit: sideways overcut.
#pragma once

#include "causes/model/cause.h"
#include "causes/model/cuts.h"

#include <vector>

namespace leastwall {

/// Runout and flex let the bit cut at most s sideways beyond its path, never less. A sideways shift
/// s of the surface takes its part along n: sqrt(1 - n_z^2) s, always thinner.
void add_runout(const CutView& cut, std::vector<Cause>& causes);

} // namespace leastwall
