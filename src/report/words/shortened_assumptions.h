// The list of what no one stated, short enough to be read in a terminal.
#pragma once

#include <string>
#include <vector>

namespace leastwall {

/// The sentences of `assumptions` with all of the kind "KEY is not stated; VALUE is used" drawn
/// together: one for the keys taken as zero, one for those with another value. They come first,
/// keys in their order. All other sentences follow as they are, but what sides A and B both leave
/// out is named once everywhere, "side_a/b.KEY". JSON and page hold every sentence by itself.
std::vector<std::string> shortened_assumptions(const std::vector<std::string>& assumptions);

} // namespace leastwall
