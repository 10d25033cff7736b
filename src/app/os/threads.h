// How many threads to use.
#pragma once

namespace leastwall {

/// Processors this process may use: its affinity mask, and the CPU quota of its control group where
/// one is set (rounded up). At least 1.
int usable_processors();

} // namespace leastwall
