// Lengths of scale bars and steps of ticks.
#pragma once

namespace leastwall {

/// The largest of 1, 2, 5 times a power of ten that is <= `most` (> 0).
double round_length(double most);

/// The same, in whole steps of the unit that is shown; mm.
double round_length(double max_mm, bool inch);

} // namespace leastwall
