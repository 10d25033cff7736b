// A job file as a small tree of values, each with the line it stands on.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace leastwall {

struct JobNode;
struct JobEntry;

/// Keys in the order of the file.
using JobTable = std::vector<JobEntry>;
using JobArray = std::vector<JobNode>;

/// A date or a time: TOML knows them, a job has no use for them.
struct JobDate {};

struct JobNode {
  std::variant<std::string, std::int64_t, double, bool, JobDate, JobArray, JobTable> value;
  int line = 1; ///< of the key, or of the value inside an array; counted from 1

  const JobTable* table() const { return std::get_if<JobTable>(&value); }
  const JobArray* array() const { return std::get_if<JobArray>(&value); }
  const std::string* text() const { return std::get_if<std::string>(&value); }
  /// The entry of a table, or null.
  const JobNode* find(std::string_view key) const;
};

struct JobEntry {
  std::string name;
  JobNode node;
};

/// The kind of value in words for messages: "a text", "a whole number", "a table", ...
std::string_view kind_of(const JobNode& node);

} // namespace leastwall
