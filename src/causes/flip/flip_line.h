// The line the board is turned about is not where it should be.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "causes/model/cuts.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// The flip line is d off (located from edges, or a pin pattern off it): a point at x should come
/// back to 2 f - x and comes to 2 (f + d) - x, so the skin is 2 d off across the line against the
/// pocket: wall change 2 n_across d. A board that is put back against edges, the same face up, lies
/// where these are found anew: the difference of two such errors, so no more than 2 d again.
void add_flip_line(const Setup& setup, const CutView& cut, std::vector<Cause>& causes,
                   std::vector<Assumption>& assumptions);

} // namespace leastwall
