// One value of a job file, checked against its key: kind, words, range. All throw InputError
// "FILE:LINE: PATH ...; what to do"; lengths come out in mm.
#pragma once

#include "base/units.h"
#include "job/keys/known_keys.h"
#include "job/toml/job_node.h"
#include "setup/setup.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

/// Where a value stands.
struct KeyPlace {
  std::string_view file;
  LengthUnit unit = LengthUnit::mm; ///< of bare numbers
  std::string path;                 ///< for messages, e.g. "side_a.touch_off"
};

std::string text_value(const JobNode& node, const KnownKey& key, const KeyPlace& place);
/// The index in `key.choices`.
std::string_view choice_value(const JobNode& node, const KnownKey& key, const KeyPlace& place);
std::int64_t whole_value(const JobNode& node, const KnownKey& key, const KeyPlace& place);
/// `number`, `length` (mm) and `chance` (0..1).
double number_value(const JobNode& node, const KnownKey& key, const KeyPlace& place);
Uncertain uncertain_value(const JobNode& node, const KnownKey& key, const KeyPlace& place);
/// `point2`, `point3`, `lengths`, mm.
std::vector<double> lengths_value(const JobNode& node, const KnownKey& key, const KeyPlace& place);
/// The rows of inline `readings`: x, y, reading, mm.
std::vector<Vec3> rows_value(const JobNode& node, const KnownKey& key, const KeyPlace& place);

/// Checks a value of any type but table and tables, by the functions above.
void check_value(const JobNode& node, const KnownKey& key, const KeyPlace& place);

/// A length or number in words: "0.05 mm", "0.002 in", "3 %", in the unit of the file.
std::string number_words(double value, const KnownKey& key, LengthUnit unit);

} // namespace leastwall
