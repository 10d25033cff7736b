// The machine's axes are not square to each other.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "causes/model/cuts.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// Machine y leans by kappa: machine (x, y) is at (x + kappa y, y). The pocket is cut leaning one
/// way; turned over, the skin leans the other way, and where they agree is set by what the board
/// hangs on:
/// * pins along the flip line, drilled by the machine, stand on a line that leans with it: skin
///   against pocket 2 kappa w along the line, w the distance from the line;
/// * pins across the flip line: 2 kappa v across the line, v the distance from them along it;
/// * edges: which of the two is not known; the larger counts at each place.
/// In mm per metre. A board that is put back with the same face up leans with the machine as
/// before.
void add_out_of_square(const Setup& setup, const CutView& cut, std::vector<Cause>& causes,
                       std::vector<Assumption>& assumptions);

} // namespace leastwall
