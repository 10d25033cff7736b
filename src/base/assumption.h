// What no one stated, and what was taken instead: data, made into lines where it is reported.
#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

namespace leastwall {

/// `key` is that of the job which would state it, "side_a.sanding"; empty where there is none.
/// `value` is what is used for it, with its unit, "0 mm", when there is no more to say. `text` says
/// it in plain words: what is used or done instead, or, without a key, all of it. `usual`: how it is
/// done with sound files, so that a short report may leave it out.
struct Assumption {
  std::string text;
  std::string key = {}, value = {};
  bool usual = false;
  bool operator==(const Assumption&) const = default;
};

/// Adds what was assumed, unless it is there already.
inline void note(std::vector<Assumption>& assumptions, std::string text) {
  Assumption line{std::move(text)};
  if (std::find(assumptions.begin(), assumptions.end(), line) == assumptions.end())
    assumptions.push_back(std::move(line));
}

/// One line for a reader: "KEY is not stated; TEXT", or the text alone.
inline std::string line_of(const Assumption& a) {
  return a.key.empty() ? a.text : a.key + " is not stated; " + a.text;
}

/// Of each a line.
inline std::vector<std::string> lines_of(const std::vector<Assumption>& assumptions) {
  std::vector<std::string> lines;
  for (const Assumption& a : assumptions)
    lines.push_back(line_of(a));
  return lines;
}

} // namespace leastwall
