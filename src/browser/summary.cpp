#include "browser/summary.h"

#include "report/json/advice_json.h"
#include "report/words/length_text.h"
#include "report/words/shortened_assumptions.h"
#include "report/words/verdict_text.h"
#include "report/words/wall_name.h"

#include <algorithm>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <vector>

namespace leastwall {
namespace {

constexpr std::size_t kMostAdvice = 3;

} // namespace

std::string summary_json(const CheckReport& report, bool inch) {
  using Json = nlohmann::ordered_json;
  const LengthText words{inch};
  const WallReport& wall = report.wall;
  const Headline headline = verdict_headline(report);
  Json figures = Json::array();
  const auto figure = [&](const char* name, const std::string& value) {
    figures.push_back({{"name", name}, {"value", value}});
  };
  if (report.walls.size() > 1)
    figure("Decided by", wall_name_short(report.walls[report.governing]));
  figure("Least wall as drawn", words.wall(wall.least_wall.design_mm, wall.limit_mm));
  figure("Expected", words.wall(wall.least_wall.expected_mm, wall.limit_mm));
  figure("At worst", words.wall(wall.least_wall.worst_mm, wall.limit_mm));
  figure("Limit", words.length(wall.limit_mm));
  if (wall.chance)
    figure("Under the limit", pieces_text(wall.chance->under_limit, wall.chance->trials));
  Json out{{"title", report.title},
           {"verdict", verdict_word(shown_verdict(report))},
           {"banner", headline.banner},
           {"ground", headline.ground},
           {"sentence", verdict_sentence(report, inch)},
           {"figures", std::move(figures)}};
  // The best ones, each with what to write into the job where that does it.
  Json advice = Json::array();
  for (std::size_t i = 0; i < std::min(kMostAdvice, report.advice.size()); ++i) {
    const AdviceRow& row = report.advice[i];
    Json one = {{"text", fmt::format("{} ({}, then {}; {})", words.sentence(row.change),
                                     words.change(row.gain_mm), verdict_in_text(row.verdict),
                                     cost_text(row.cost))}};
    if (!row.set.empty())
      one["set"] = advice_json(row)["set"];
    advice.push_back(std::move(one));
  }
  out["advice"] = std::move(advice);
  const auto unstated = std::count_if(report.assumptions.begin(), report.assumptions.end(),
                                      [](const Assumption& a) { return !a.key.empty(); });
  out["unstated"] = unstated == 0
                        ? ""
                        : fmt::format("No one stated {} {}: see what is taken as given. Where 0 is "
                                      "taken and is not true, walls are thinner.",
                                      unstated, unstated == 1 ? "value" : "values");
  Json given = Json::array();
  for (const std::string& line : shortened_assumptions(report.assumptions))
    given.push_back(words.sentence(line));
  out["given"] = std::move(given);
  std::vector<Notice> warnings = report.warnings; // the gravest first
  std::stable_sort(warnings.begin(), warnings.end(),
                   [](const Notice& a, const Notice& b) { return a.severity > b.severity; });
  Json notices = Json::array();
  for (const Notice& notice : warnings)
    notices.push_back(
        {{"severity", severity_word(notice.severity)}, {"text", words.sentence(notice.text)}});
  out["notices"] = std::move(notices);
  return out.dump(-1, ' ', false, Json::error_handler_t::replace);
}

} // namespace leastwall
