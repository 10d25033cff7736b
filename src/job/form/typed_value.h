// What somebody types into a field, as a value of a job file.
#pragma once

#include "base/units.h"
#include "job/keys/known_keys.h"
#include "job/toml/job_node.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

struct TypedValue {
  std::optional<std::string> value;    ///< as it stands in a job file; absent: nothing was typed
  std::vector<std::string> understood; ///< of readings: how they were read, one fact a sentence
};

/// Numbers stay as they were typed; what is none becomes a text, which the reader of jobs judges: a
/// length with its unit, a word. Lists are items between semicolons, else commas with a blank
/// behind each, else, of points, blanks; a comma that may be a decimal mark is
/// refused.
/// Readings are typed or pasted as people write them (bed/readings/read_readings.h) and become a
/// list of rows, in `unit`; a single line without a number is the name of a file. Throws InputError
/// where readings or a list cannot be understood.
TypedValue typed_value(const KnownKey& key, std::string_view typed, LengthUnit unit);

/// The other way: a value as a field shows it. Typed again it gives the same value.
std::string shown_value(const JobNode& node);

} // namespace leastwall
