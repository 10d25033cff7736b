// Two cuts that share a set-up, a bit or a touch point have the same error, not two of a kind.
#pragma once

#include "causes/model/cause.h"

#include <vector>

namespace leastwall {

/// Makes one cause of those with the same identity, whose error is the same one: their
/// sensitivities are added up, so that what moves both cuts alike cancels. Causes that vary from
/// place to place and known shifts stay as they are.
void join_same(std::vector<Cause>& causes);

} // namespace leastwall
