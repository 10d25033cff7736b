// The smallest job, and jobs made from it by stating one key more.
#pragma once

#include "job/read_job.h"

#include <algorithm>
#include <fmt/format.h>
#include <string>
#include <utility>
#include <vector>

namespace leastwall::test {

/// Tables by their path, each with its lines; written out in a fixed order.
struct JobText {
  std::vector<std::pair<std::string, std::vector<std::pair<std::string, std::string>>>> tables = {
      {"", {{"limit", "0.5"}}},
      {"board", {{"thickness", "30"}}},
      {"side_a", {{"zero", "\"top\""}, {"touch_off", "0.04"}}},
      {"side_b", {{"zero", "\"bed\""}, {"touch_off", "0.04"}}},
      {"part", {{"skin", "\"s.stl\""}}},
      {"part.pocket", {{"mesh", "\"p.stl\""}}},
  };

  /// States a key (replacing what was stated); makes the table when it is new.
  JobText& set(const std::string& table, const std::string& key, const std::string& value) {
    auto at =
        std::find_if(tables.begin(), tables.end(), [&](const auto& t) { return t.first == table; });
    if (at == tables.end())
      at = tables.insert(tables.end(), {table, {}});
    for (auto& [name, old] : at->second)
      if (name == key) {
        old = value;
        return *this;
      }
    if (!key.empty())
      at->second.emplace_back(key, value);
    return *this;
  }

  std::string str() const {
    std::string out;
    for (const auto& [table, lines] : tables) {
      if (table == "part" || table == "part.pocket" || table == "part.hole")
        out += fmt::format("[[{}]]\n", table);
      else if (!table.empty())
        out += fmt::format("[{}]\n", table);
      for (const auto& [key, value] : lines)
        out += key + " = " + value + "\n";
    }
    return out;
  }
};

inline Job parse(const std::string& text) {
  return parse_job(text, {.name = "j.toml", .folder = "", .files_must_exist = false});
}

} // namespace leastwall::test
