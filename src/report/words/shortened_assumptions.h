// The list of what no one stated, short enough to be read in a terminal.
#pragma once

#include "base/assumption.h"

#include <string>
#include <vector>

namespace leastwall {

/// Lines of `assumptions`, those with a value drawn together: one line for the keys taken as zero,
/// one for those with another value. They come first, keys in their order. All others follow as
/// they are, but what sides A and B both leave out is named once everywhere, "side_a/b.KEY". JSON
/// and page hold every one by itself.
std::vector<std::string> shortened_assumptions(const std::vector<Assumption>& assumptions);

/// Those that a short report keeps: without what is usual, a word taken for a choice, how many trials
/// there were and where their draws begin, and a pocket face that the next line tells of. What
/// counts as 0 stays, and every number.
std::vector<Assumption> telling_assumptions(const std::vector<Assumption>& assumptions);

} // namespace leastwall
