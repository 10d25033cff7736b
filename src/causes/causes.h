// Every cause of error of a wall.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// The causes in a fixed order: the inner cut's, the outer cut's, then board, bed, flip and wood;
/// one for each error, whether it moves one cut or both (causes/model/cuts.h). A cause whose size
/// is zero is left out. `assumptions` gains a line for each value that was not stated and matters,
/// with the value used. Throws InputError when values contradict each other or a needed one is
/// missing. The causes keep no reference to `setup`.
std::vector<Cause> causes_of(const Setup& setup, std::vector<Assumption>& assumptions);

} // namespace leastwall
