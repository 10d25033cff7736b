// Every key of the job file, once: the reader, the sample jobs, the message for an unknown key and
// the tests all use this table, so that they cannot drift apart.
#pragma once

#include <limits>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace leastwall {

enum class KeyType {
  text,
  choice,    ///< one of `choices`
  whole,     ///< whole number
  number,    ///< number in `unit`
  length,    ///< number in the job's unit, or a text with a unit
  uncertain, ///< length = limits +-; or {limits = ...}; or {standard = ...}
  chance,    ///< 0..1 or "1 in 20"
  file,      ///< path, relative to the job file
  readings,  ///< path of a file of readings, or a list of [x, y, value]
  point2,    ///< [x, y], lengths
  point3,    ///< [x, y, z], lengths
  lengths,   ///< one length or a list of two
  table,     ///< [name]; its keys are those of `schema`
  tables     ///< [[name]], any number; keys of `schema`
};

struct KnownKey {
  std::string_view owner; ///< schema of the table it stands in; "" at the top of the file
  std::string_view name;
  KeyType type = KeyType::text;
  std::string_view unit = {};                 ///< words for `number`, e.g. "%"
  std::vector<std::string_view> choices = {}; ///< for `choice`
  std::string_view schema = {};               ///< for `table` and `tables`
  /// Smallest and largest value (mm for lengths, size for `uncertain`), inclusive; for lengths
  /// never beyond kLargestLength_mm (sane_size.h).
  double least = -std::numeric_limits<double>::infinity();
  double most = std::numeric_limits<double>::infinity();
  bool required = false;
  /// Taken when the key is not stated, and listed among the assumptions.
  std::optional<double> fallback = std::nullopt;
  std::string_view fallback_choice = {};
  /// What not stating the key means, for the assumptions; empty: nothing worth a line.
  std::string_view if_absent = {};
  std::string_view example = {}; ///< a value as it stands in a file with units = "mm"
  std::string_view help = {};    ///< what it is and how to measure it, one or two sentences
};

/// All keys, in the order in which a sample job lists them.
std::span<const KnownKey> known_keys();

/// The keys of one schema, in order.
std::vector<const KnownKey*> keys_of(std::string_view schema);

/// One key, or null.
const KnownKey* find_key(std::string_view schema, std::string_view name);

/// What a value of this key looks like, for messages: "a length such as 0.05 or \"0.002 in\"", ...
std::string_view wanted(const KnownKey& key);

} // namespace leastwall
