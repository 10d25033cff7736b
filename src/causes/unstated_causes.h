// What a set-up leaves at nothing and a carver may still meet: to be tried, never counted.
#pragma once

#include "causes/model/cause.h"
#include "setup/setup.h"

#include <span>
#include <vector>

namespace leastwall {

/// Causes that `causes_of` would add to `stated` if their key were stated, in a fixed order, each
/// as it acts then; `size` is a large value to try (common practice), in its unit. Left out: errors
/// that vary from place to place, what needs a value that is not stated (swelling without a
/// species), and what would change how a roughing bit of that side acts.
std::vector<Cause> unstated_causes(const Setup& setup, std::span<const Cause> stated);

} // namespace leastwall
