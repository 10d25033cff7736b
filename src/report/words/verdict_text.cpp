#include "report/words/verdict_text.h"

#include "report/words/length_text.h"
#include "report/words/number_text.h"
#include "report/words/wall_name.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {

namespace {

bool at_worst_holds(const WallReport& wall) {
  return wall.least_wall.worst_mm >= wall.limit_mm - kLimitTolerance_mm;
}

} // namespace

std::span<const HeadlineWords> headline_text() {
  static constexpr HeadlineWords kWords[] = {
      {"safe-as-drawn", "HOLDS AS DRAWN", "no machine error was stated",
       "Every wall holds as drawn"},
      {"safe-at-worst", "EVERY WALL HOLDS", "even with every stated error at its worst",
       "Every wall holds"},
      {"safe-by-chance", "HOLDS", "{pieces} too thin, you accept {accepted}",
       "Every wall holds if all goes as expected"},
      {"at-risk-by-chance", "AT RISK", "{pieces} too thin, you accept {accepted}", ""},
      {"at-risk-at-worst", "AT RISK", "too thin with every error at its worst", ""},
      {"thin", "TOO THIN", "", ""},
      {"cut-through", "CUT THROUGH", "", ""},
      {"unproven", "LOOK FIRST", "{finding}", ""}};
  return kWords;
}

std::string_view headline_key(const CheckReport& r) {
  switch (r.wall.verdict) {
  case Verdict::safe: {
    if (!r.basis.errors_stated)
      return "safe-as-drawn";
    const bool never = r.wall.chance && r.wall.chance->under_limit <= 0;
    const bool at_worst =
        at_worst_holds(r.wall) && std::ranges::all_of(r.walls, [](const NamedWall& wall) {
          return at_worst_holds(wall.wall);
        });
    return !r.basis.by_chance || (never && at_worst) ? "safe-at-worst" : "safe-by-chance";
  }
  case Verdict::at_risk:
    return r.basis.by_chance ? "at-risk-by-chance" : "at-risk-at-worst";
  default:
    return verdict_word(r.wall.verdict);
  }
}

Verdict shown_verdict(const CheckReport& report) {
  const bool of_job = report.one_of && report.wall.verdict == Verdict::safe;
  return of_job ? report.one_of->verdict : report.wall.verdict;
}

std::string pieces_text(double fraction, std::uint64_t trials) {
  if (fraction >= 1)
    return "every piece";
  return (fraction > 0 ? odds_text(fraction) : fmt::format("not one in {}", trials)) + " pieces";
}

Headline verdict_headline(const CheckReport& report) {
  const std::string_view key = headline_key(report);
  const auto words = std::ranges::find(headline_text(), key, &HeadlineWords::key);
  if (words == headline_text().end())
    return {std::string(key), ""};
  if (!report.wall.chance && words->ground.find("{pieces}") != std::string_view::npos)
    return {std::string(words->banner), ""}; // no trials were made
  const ChanceRow chance = report.wall.chance.value_or(ChanceRow{});
  Headline headline{std::string(words->banner),
                    fmt::format(fmt::runtime(words->ground),
                                fmt::arg("pieces", pieces_text(chance.under_limit, chance.trials)),
                                fmt::arg("accepted", odds_text(report.basis.accepted_chance)),
                                fmt::arg("finding", finding_text(report)))};
  // What is said of one wall must not be read as said of the job.
  if (report.one_of && report.wall.verdict == Verdict::safe) {
    if (report.one_of->verdict == Verdict::safe)
      headline.banner = "THIS WALL HOLDS";
    else
      headline = {"THE JOB DOES NOT HOLD", fmt::format("this wall alone does; the job is {}",
                                                       verdict_in_text(report.one_of->verdict))};
  }
  return headline;
}

std::string headline_line(const CheckReport& report) {
  const Headline h = verdict_headline(report);
  return h.ground.empty() ? h.banner : h.banner + ": " + h.ground;
}

std::string finding_text(const CheckReport& report) {
  const std::vector<Notice> look = look_first(report);
  return look.empty() ? "" : first_sentence(look[0].text);
}

std::string first_sentence(const std::string& text) {
  for (std::size_t at = text.find(". "); at != std::string::npos; at = text.find(". ", at + 1))
    if (at + 2 < text.size() && text[at + 2] >= 'A' && text[at + 2] <= 'Z')
      return text.substr(0, at);
  return text.substr(0, text.find_last_not_of('.') + 1);
}

std::vector<Notice> look_first(const CheckReport& report) {
  std::vector<Notice> found;
  for (const Severity s : {Severity::unproven, Severity::doubt})
    for (const Notice& n : report.warnings)
      if (n.severity == s)
        found.push_back(n);
  return found;
}

std::string wall_or_hole_text(double wall_mm, double limit_mm, bool inch) {
  const LengthText words{inch};
  return wall_mm > 0 ? words.wall(wall_mm, limit_mm)
                     : "hole, " + words.length(std::abs(wall_mm)) + " too deep";
}

std::string cost_text(const std::string& cost) {
  if (cost == "free")
    return "costs nothing";
  if (cost == "work")
    return "some work";
  if (cost == "model")
    return "a change of the model";
  return cost;
}

std::span<const SentenceWords> sentence_text() {
  static constexpr SentenceWords kWords[] = {
      {"safe", "{lead}: least {least} at {where}, limit {limit}."},
      {"at-risk",
       "The walls hold if all goes as expected (least {least} at {where}, limit {limit}), "
       "but errors may leave them too thin: {worst} at worst."},
      {"at-risk-through",
       "The walls hold if all goes as expected (least {least} at {where}, limit {limit}), but "
       "errors may cut through: {worst} too deep at worst."},
      {"thin", "Some walls are too thin: least {least} at {where}, limit {limit}."},
      {"cut-through",
       "The two cuts meet: {deep} too deep at {where}, so there is a hole; limit {limit}."},
      {"unproven", "No wall is proven. Measured so far: least {least} at {where}, limit {limit}."},
      {"unproven-cut",
       "No wall is proven. Measured so far: the two cuts meet at {where}; limit {limit}."}};
  return kWords;
}

namespace {

std::string_view sentence_key(const WallReport& wall) {
  if (wall.verdict == Verdict::at_risk && !(wall.least_wall.worst_mm > 0))
    return "at-risk-through";
  if (wall.verdict == Verdict::unproven && !(wall.least_wall.expected_mm > 0))
    return "unproven-cut";
  return verdict_word(wall.verdict);
}

} // namespace

std::string verdict_sentence(const CheckReport& report, bool inch) {
  const LengthText words{inch};
  const auto length = [&](double mm) { return words.wall(mm, report.wall.limit_mm); };
  const WallReport::Least& least = report.wall.least_wall;
  const std::string of_wall =
      report.walls.size() > 1 ? ", " + wall_name(report.walls[report.governing]) : "";
  const auto sentence =
      std::ranges::find(sentence_text(), sentence_key(report.wall), &SentenceWords::key);
  const auto lead = std::ranges::find(headline_text(), headline_key(report), &HeadlineWords::key);
  return fmt::format(fmt::runtime(sentence->text), fmt::arg("lead", lead->lead),
                     fmt::arg("least", length(least.expected_mm)),
                     fmt::arg("where", words.place(least.at) + of_wall),
                     fmt::arg("limit", length(report.wall.limit_mm)),
                     fmt::arg("worst", length(std::abs(least.worst_mm))),
                     fmt::arg("deep", fmt::format("{}{}", least.may_be_deeper ? kAtLeast : "",
                                                  length(std::max(0.0, -least.expected_mm)))));
}

} // namespace leastwall
