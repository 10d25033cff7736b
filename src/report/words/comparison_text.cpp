#include "report/words/comparison_text.h"

#include "report/words/number_text.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <span>

namespace leastwall {
namespace {

constexpr std::size_t kMostLines = 40;

ComparisonBlock differences(const char* what, const std::vector<ComparedWords>& rows) {
  ComparisonBlock out;
  out.heading = rows.empty() ? fmt::format("{}: the same, as far as both reports tell it.", what)
                             : fmt::format("{}, before and now:", what);
  const std::size_t shown = std::min(kMostLines, rows.size());
  for (const ComparedWords& r : std::span(rows).first(shown))
    out.lines.push_back(fmt::format("{}: {}; now {}", r.what,
                                    r.before.empty() ? kNotTold : r.before,
                                    r.after.empty() ? kNotTold : r.after));
  if (shown < rows.size())
    out.lines.push_back(
        fmt::format("and {} more, listed in the JSON of this check", rows.size() - shown));
  return out;
}

} // namespace

std::string compared_verdict(const std::string& word) {
  std::string out = word == "thin" ? "too thin" : word.empty() ? kNotTold : word;
  std::replace(out.begin(), out.end(), '-', ' ');
  return out;
}

std::string compared_odds(const std::optional<double>& fraction) {
  return fraction ? odds_text(*fraction) : kNotTold;
}

std::vector<std::array<std::string, 3>> comparison_rows(const Comparison& against,
                                                        const LengthText& words) {
  const auto length = [&](const std::optional<double>& mm) {
    return mm ? words.length(*mm) : std::string(kNotTold);
  };
  const ComparedWall& w = against.whole;
  return {
      {"verdict", compared_verdict(w.verdict_before), compared_verdict(w.verdict_after)},
      {"least wall, expected", length(w.expected_mm.before), length(w.expected_mm.after)},
      {"at worst", length(w.worst_mm.before), length(w.worst_mm.after)},
      {"a wall under the limit", compared_odds(w.too_thin.before), compared_odds(w.too_thin.after)},
  };
}

std::vector<ComparisonBlock> comparison_blocks(const Comparison& against) {
  ComparisonBlock setup = differences("Set-up", against.setup);
  for (const auto& [what, names] : {std::pair{"now stated, or not asked for", &against.stated_now},
                                    {"no longer stated", &against.left_out_now}})
    if (!names->empty())
      setup.lines.push_back(fmt::format("{}: {}", what, fmt::join(*names, ", ")));
  const char* not_compared =
      against.by_keys ? "Not compared: what stands in the files that the jobs name."
                      : "Not compared, for reports do not hold it: where Z is zeroed and touched, "
                        "board, flip, dowels, readings.";
  std::vector<ComparisonBlock> out;
  if (against.title_before != against.title_after)
    out.push_back(
        {fmt::format("Mind: the earlier check has another title, \"{}\", this one \"{}\"; "
                     "make sure that both are of one piece.",
                     against.title_before, against.title_after),
         {}});
  out.insert(out.end(), {setup, {not_compared, {}}, differences("Meshes", against.meshes)});
  return out;
}

std::string walls_of_one_text(const Comparison& against) {
  return against.walls_of_one > 0
             ? fmt::format("Walls that only one of the two has: {}.", against.walls_of_one)
             : "";
}

} // namespace leastwall
