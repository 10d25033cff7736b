// Sanding after the cut.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "causes/model/cuts.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// Sanding takes its allowance off the surface along the normal: wall -1 times what is taken, on
/// any slope. The allowance is a known shift; how evenly it is taken is an error of its own that
/// varies from place to place (error_tiles.h). A witness pad is not sanded.
void add_sanding(const Setup& setup, const CutView& cut, std::vector<Cause>& causes,
                 std::vector<Assumption>& assumptions);

} // namespace leastwall
