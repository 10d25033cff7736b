// The text of a job file, each key with how to measure it: every known key, those that are not
// stated left out by a "#" and ready to be stated, or the stated ones alone.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leastwall {

/// Path of a key ("side_a.touch_off") and its value as it stands in the file ("0.05"). The path of
/// a table alone, with an empty value, states the table.
using StatedValues = std::vector<std::pair<std::string, std::string>>;

/// `head` lines come first as comments. A key that is left out shows its value in `suggested`, else
/// its example. Throws std::logic_error for a path that is not known.
std::string sample_text(std::string_view head, const StatedValues& stated,
                        const StatedValues& suggested = {});

/// The same without the keys and tables that are not stated.
std::string short_sample_text(std::string_view head, const StatedValues& stated);

} // namespace leastwall
