#include "report/page/page_still.h"

#include "report/words/advice_text.h"
#include "report/words/cause_text.h"
#include "report/words/html_text.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"
#include "report/words/verdict_text.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace leastwall {
namespace {

constexpr double kNoLimit = -std::numeric_limits<double>::infinity();
constexpr std::size_t kMostPlaces = 12;
const char* const kHidden = " hidden";

/// As the script writes it: the unit shown alone, a blank that does not break.
struct Words {
  LengthText text;

  std::string wall(double mm, double limit_mm) const {
    return fmt::format("{}\u00a0{}", text.wall_number(mm, limit_mm), text.unit());
  }
  /// Large words, small ones below.
  std::string figure(double mm, double limit_mm, bool at_least, const std::string& small) const {
    if (mm > 0)
      return fmt::format("{}<small>{}</small>", wall(mm, limit_mm), small);
    return fmt::format("hole<small>{}{} too deep; {}</small>", at_least ? "at least " : "",
                       wall(-mm, kNoLimit), small);
  }
  std::string area(double mm2) const {
    if (!text.inch)
      return area_text(mm2) + " mm\u00b2";
    const double in2 = mm2 / (25.4 * 25.4);
    return (in2 > 0 && in2 < 0.0005 ? "under 0.001" : fixed_text(in2, 3)) + " in\u00b2";
  }
  std::string axis(double mm) const { return text.number(mm, 1); }
  std::string sentence(std::string_view words) const { return html_text(text.sentence(words)); }
};

std::string chance_figure(const WallReport& wall, const BasisReport& basis) {
  if (!wall.chance)
    return "\u2013";
  const ChanceRow& c = *wall.chance;
  return fmt::format(
      "{}<small>{}cut through: {}; {} trials</small>",
      c.under_limit > 0 ? odds_text(c.under_limit) : fmt::format("not once in {}", c.trials),
      basis.by_chance ? fmt::format("you accept {}; ", odds_text(basis.accepted_chance)) : "",
      c.cut_through > 0 ? odds_text(c.cut_through) : "not once", c.trials);
}

std::string advice_items(const CheckReport& said, std::size_t from, std::size_t to,
                         const Words& words) {
  std::string out;
  for (std::size_t i = from; i < std::min(to, said.advice.size()); ++i) {
    const AdviceRow& a = said.advice[i];
    out += fmt::format("<li><b>{}</b> <span>({}{} {}, then {}; {})</span></li>",
                       words.sentence(a.change), a.gain_mm > 0 ? "+" : "",
                       words.text.number(a.gain_mm), words.text.unit(), verdict_in_text(a.verdict),
                       html_text(cost_text(a.cost)));
  }
  return out;
}

const char* places_hint(const WallReport& wall) {
  if (!wall.regions.empty())
    return "Thinnest first, numbered as in the pictures.";
  return wall.verdict == Verdict::unproven
             ? "None of what was measured is under the limit; it proves nothing: look first."
             : "No wall is under the limit, not even at worst.";
}

std::string places_table(const WallReport& wall, const Words& words) {
  if (wall.regions.empty())
    return "";
  std::string out = fmt::format(
      "  <table class=\"still\"><thead><tr><th></th><th>Expected, {0}</th><th>At worst</th>"
      "<th>x, {0}</th><th>y</th><th>z</th></tr></thead><tbody>",
      words.text.unit());
  const auto cell = [&](const char* label, const std::string& number) {
    out += fmt::format("<td class=\"n\" data-label=\"{}\">{}</td>", label, number);
  };
  const auto thick = [&](double mm) {
    return mm > 0 ? words.text.wall_number(mm, wall.limit_mm)
                  : "hole, " + words.text.wall_number(-mm, kNoLimit) + " too deep";
  };
  for (std::size_t i = 0; i < std::min(kMostPlaces, wall.regions.size()); ++i) {
    const RegionRow& r = wall.regions[i];
    out += fmt::format("<tr><th scope=\"row\">{}</th>", i + 1);
    cell("expected", thick(r.least_wall_mm));
    cell("at worst", thick(r.worst_mm));
    cell("x", words.axis(r.at.x));
    cell("y", words.axis(r.at.y));
    cell("z", words.axis(r.at.z));
    out += "</tr>\n";
  }
  return out + "</tbody></table>\n";
}

std::string cause_rows(const WallReport& wall, const Words& words) {
  std::string out;
  for (const CauseRow& c : wall.causes) {
    const bool shift = c.distribution == Distribution::shift;
    const std::string sign = !shift ? "\u00b1" : c.at_thinnest_mm < 0 ? "\u2212" : "+";
    const std::string most =
        !c.largest_allowed_mm ? (shift ? "\u2013" : "not alone")
        : c.unit == "mm"
            ? fmt::format("{} {}", words.text.number(*c.largest_allowed_mm), words.text.unit())
            : fmt::format("{} {}", fixed_text(*c.largest_allowed_mm, 3),
                          c.unit.empty() ? "\u00d7 as read" : html_text(c.unit));
    out += fmt::format(
        "<tr><th scope=\"row\">{}</th><td class=\"n\" data-label=\"{}\">{}{}</td>"
        "<td class=\"n\" data-label=\"share\">{}</td><td class=\"n\" data-label=\"may be, "
        "alone\">{}{}</td></tr>\n",
        html_text(cause_text_with_side(c.id)), words.text.unit(), sign,
        words.text.number(std::abs(c.at_thinnest_mm)),
        shift ? "known" : fixed_text(100 * c.share, 0) + " %",
        c.largest_allowed_mm && c.allowed_at_least ? "\u2265 " : "", most);
  }
  return out;
}

std::string list_items(const std::vector<std::string>& lines, const Words& words) {
  std::string out;
  for (const std::string& line : lines)
    out += "<li>" + words.sentence(line) + "</li>\n";
  return out;
}

} // namespace

std::vector<std::pair<std::string_view, std::string>>
page_still(const CheckReport& report, const CheckReport& said, bool inch) {
  const Words words{{inch}};
  const WallReport& wall = report.wall;
  const WallReport::Least& least = wall.least_wall;
  std::vector<std::string> known;
  for (const Notice& n : said.warnings)
    if (n.severity == Severity::warning) // those of weight stand under the verdict
      known.push_back(n.text);
  const auto hidden = [](bool empty) { return std::string(empty ? kHidden : ""); };
  return {
      {"EXPECTED", words.figure(least.expected_mm, wall.limit_mm, least.may_be_deeper,
                                "limit " + words.wall(wall.limit_mm, wall.limit_mm))},
      {"WORST", words.figure(least.worst_mm, wall.limit_mm, least.may_be_deeper,
                             "every error at its limit at once")},
      {"CHANCE", chance_figure(wall, report.basis)},
      {"AREA", fmt::format("{}<small>{} at worst</small>", words.area(wall.area_under_limit_mm2),
                           words.area(wall.area_at_risk_mm2))},
      {"NO_ADVICE", hidden(said.advice.empty())},
      {"ADVICE", advice_items(said, 0, kBestChanges, words)},
      {"NO_MORE_ADVICE", hidden(said.advice.size() <= kBestChanges)},
      {"MORE_ADVICE", advice_items(said, kBestChanges, said.advice.size(), words)},
      {"PLACES_HINT", places_hint(wall)},
      {"PLACES", places_table(wall, words)},
      {"CAUSES", cause_rows(wall, words)},
      {"UNIT", std::string(words.text.unit())},
      {"NO_WARNINGS", hidden(known.empty())},
      {"WARNING_COUNT", std::to_string(known.size())},
      {"WARNINGS", list_items(known, words)},
      {"NO_GIVEN", hidden(said.assumptions.empty())},
      {"GIVEN_COUNT",
       fmt::format("Taken as given: {} values no one stated", said.assumptions.size())},
      {"GIVEN", list_items(lines_of(said.assumptions), words)},
      {"NO_UNSEEN", hidden(said.not_checked.empty())},
      {"UNSEEN", list_items(said.not_checked, words)},
  };
}

} // namespace leastwall
