#include "report/page/page.h"

#include "base/errors.h"
#include "report/json/json_report.h"
#include "report/page/page_against.h"
#include "report/page/page_assets.h"
#include "report/page/page_payload.h"
#include "report/page/page_sketch.h"
#include "report/page/page_still.h"
#include "report/page/page_words.h"
#include "report/words/html_text.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"
#include "report/words/parts_text.h"
#include "report/words/verdict_text.h"
#include "report/words/wall_name.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace leastwall {
namespace {

/// What to look at first, as paragraphs; nothing where there is nothing.
std::string look_first_html(const CheckReport& report, bool inch) {
  std::string out;
  for (const Notice& n : look_first(report))
    out += fmt::format("  <p class=\"look-first\">{}{}</p>\n",
                       report.wall.verdict == Verdict::unproven ? "" : "Look first: ",
                       html_text(LengthText{inch}.sentence(n.text)));
  return out;
}

/// The template with each {{NAME}} replaced; what is put in is not looked at again.
std::string filled(std::string_view text,
                   const std::vector<std::pair<std::string_view, std::string_view>>& values) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t open = text.find("{{", at);
    const std::size_t close = open == text.npos ? open : text.find("}}", open);
    if (close == text.npos)
      return out.append(text.substr(at));
    out.append(text.substr(at, open - at));
    const std::string_view name = text.substr(open + 2, close - open - 2);
    const auto found = std::find_if(values.begin(), values.end(),
                                    [&](const auto& value) { return value.first == name; });
    if (found == values.end())
      throw RunError(fmt::format("page: nothing to put in the place of {}; please report it as a "
                                 "fault of leastwall",
                                 name));
    out.append(found->second);
    at = close + 2;
  }
  return out;
}

std::size_t fixed_bytes() {
  return page_template().size() + page_style().size() + page_script().size() + page_three().size();
}

/// What is said of the wall that is shown first and of the job, and its picture.
struct Still {
  std::vector<std::pair<std::string_view, std::string>> values;
  std::string sketch;

  Still(const PageInput& input, const CheckReport& said)
      : values(page_still(input.report, said, input.inches)),
        sketch(page_sketch(input.skin, input.budget.expected_mm, input.budget.worst_mm,
                           input.report.wall, input.inches)) {
    if (!sketch.empty())
      sketch = "  <div class=\"still\">" + sketch + "</div>\n";
    values.emplace_back("AGAINST", page_against(input.against, input.inches));
  }
  std::size_t bytes() const {
    std::size_t sum = sketch.size();
    for (const auto& [name, value] : values)
      sum += value.size();
    return sum;
  }
};

/// The template filled for the wall that is shown first.
std::string filled_page(const PageInput& input, const CheckReport& said, const Still& still,
                        const Payload& first, std::string_view job, std::string_view wall,
                        std::string_view more) {
  const std::string title = html_text(said.title);
  const Headline headline = verdict_headline(input.report);
  const std::string ground =
      html_text(LengthText{input.inches}.sentence(headline.ground)); // a finding may name a file
  const std::string sentence = html_text(verdict_sentence(input.report, input.inches));
  const std::string look = job.empty() ? look_first_html(input.report, input.inches) : "";
  std::vector<std::pair<std::string_view, std::string_view>> values{
      {"TITLE", title},
      {"BANNER", headline.banner},
      {"GROUND", ground},
      {"VERDICT", verdict_word(input.report.wall.verdict)},
      {"SENTENCE", sentence},
      {"LOOK_FIRST", look},
      {"PICTURE", still.sketch},
      {"STYLE", page_style()},
      {"THREE", page_three()},
      {"SCRIPT", page_script()},
      {"JOB", job},
      {"WALL", wall},
      {"MORE", more},
      {"FACTS", first.facts},
      {"NUMBERS", first.numbers}};
  values.insert(values.end(), still.values.begin(), still.values.end());
  return filled(page_template(), values);
}

/// Throws RunError where there is not a number for every sample.
void check_counts(const PageInput& input) {
  const std::size_t samples = input.skin.samples.size();
  if (samples == 0 || input.budget.expected_mm.size() != samples ||
      input.budget.worst_mm.size() != samples)
    throw RunError("page: the number of walls differs from the number of samples; please keep the "
                   "meshes and report it as a fault of leastwall");
}

} // namespace

std::string page_html(const PageInput& input, const RunContext& run) {
  check_counts(input);
  const Still still(input, input.report);
  const std::size_t fixed = fixed_bytes() + still.bytes();
  const Payload only =
      payload_of(input, input.max_bytes > fixed ? input.max_bytes - fixed : 0, nullptr, run);
  return filled_page(input, input.report, still, only, "", "", "");
}

namespace {

/// A number that follows the unit of the page.
std::string length_cell(double mm, double limit_mm, const char* label, bool inch) {
  return fmt::format("<td class=\"n\" data-label=\"{}\" data-mm=\"{}\" data-limit=\"{}\">{}</td>",
                     label, mm, limit_mm, LengthText{inch}.wall_number(mm, limit_mm));
}

/// A table of walls; those in `shown` are links.
std::string walls_html(const CheckReport& job, std::span<const std::size_t> walls,
                       std::span<const PageWall> shown, bool inch) {
  std::string out =
      "<table><thead><tr><th scope=\"col\">Wall, worst first</th><th scope=\"col\">Verdict</th>"
      "<th scope=\"col\">Expected, <span class=\"unit-name\">mm</span></th>"
      "<th scope=\"col\">At worst</th><th scope=\"col\">Limit</th>"
      "<th scope=\"col\">Pieces too thin</th></tr></thead><tbody>\n";
  for (const std::size_t w : walls) {
    const WallReport& wall = job.walls[w].wall;
    const std::string name = fmt::format("{}. {}", w + 1, html_text(wall_name(job.walls[w])));
    const bool link = std::ranges::find(shown, w, &PageWall::number) != shown.end();
    out += fmt::format("<tr><th scope=\"row\">{}</th><td data-label=\"verdict\">{}</td>",
                       link ? fmt::format("<a href=\"#wall-{}\">{}</a>", w + 1, name) : name,
                       verdict_in_text(wall.verdict));
    out += length_cell(wall.least_wall.expected_mm, wall.limit_mm, "expected", inch);
    out += length_cell(wall.least_wall.worst_mm, wall.limit_mm, "at worst", inch);
    out += length_cell(wall.limit_mm, wall.limit_mm, "limit", inch);
    out += fmt::format("<td class=\"n\" data-label=\"too thin\">{}</td></tr>\n",
                       wall.chance ? odds_text(wall.chance->under_limit) : "");
  }
  return out + "</tbody></table>";
}

constexpr std::size_t kMostHolding = 2;

/// Verdict of the job and its walls, worst first; of those that hold a few, the rest is folded.
std::string job_html(const CheckReport& job, std::span<const PageWall> shown, bool inch) {
  const Headline headline = verdict_headline(job);
  std::vector<std::size_t> first, folded;
  for (std::size_t holding = 0; const std::size_t w : worst_first(job.walls)) {
    const bool holds = job.walls[w].wall.verdict == Verdict::safe;
    const bool told =
        !holds || w == job.governing ||
        (holding < kMostHolding && std::ranges::find(shown, w, &PageWall::number) != shown.end());
    holding += holds ? 1 : 0;
    (told ? first : folded).push_back(w);
  }
  std::string out = fmt::format(
      "<section id=\"job\" class=\"several\" data-verdict=\"{}\" aria-label=\"Verdict of the "
      "job\">\n"
      "  <p class=\"banner\">{}</p>\n  <p class=\"ground\">{}</p>\n{}  <p "
      "class=\"sentence\">{}</p>\n"
      "  <div class=\"walls scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Walls\">{}",
      verdict_word(job.wall.verdict), headline.banner,
      html_text(LengthText{inch}.sentence(headline.ground)), look_first_html(job, inch),
      html_text(verdict_sentence(job, inch)), walls_html(job, first, shown, inch));
  if (!folded.empty())
    out += fmt::format("<details><summary>{} more that hold</summary>{}</details>", folded.size(),
                       walls_html(job, folded, shown, inch));
  for (const SeamRow& seam : job.parts.seams)
    out += fmt::format("<details><summary>Seam: up to {}</summary><p>{}</p></details>\n",
                       LengthText{inch}.length(seam.worst_mm, 2),
                       html_text(LengthText{inch}.sentence(
                           fmt::format("{}", fmt::join(seam_sentences(seam), " ")))));
  out += "</div>\n";
  return out + "</section>\n";
}

/// What is said of the job, for the lists of the page.
std::string job_facts(const CheckReport& job) {
  const Json all = Json::parse(json_report(job));
  Json said = Json::object();
  for (const char* key : {"verdict", "advice", "warnings", "assumptions", "not_checked"})
    said[key] = all[key];
  said["in_inches"] = words_in_inches(job);
  return json_text(said);
}

} // namespace

std::string job_page_html(const CheckReport& job, std::span<const PageWall> walls,
                          const RunContext& run) {
  if (walls.empty())
    throw RunError("page: no wall to show; please report it as a fault of leastwall");
  const bool inch = walls.front().input.inches;
  for (const PageWall& wall : walls)
    check_counts(wall.input);
  const std::string said = job_facts(job);
  const Still first(walls.front().input, job);
  const std::size_t fixed =
      fixed_bytes() + job_html(job, walls, inch).size() + said.size() + first.bytes();
  const std::size_t max_bytes = walls.front().input.max_bytes;
  const double for_facts = static_cast<double>(kRoomForFacts * walls.size());
  const double room =
      std::max(0.0, static_cast<double>(max_bytes) - static_cast<double>(fixed) - for_facts);
  double samples = 0;
  for (const PageWall& wall : walls)
    samples += static_cast<double>(wall.input.skin.samples.size());
  std::vector<Payload> payloads;
  std::vector<PageWall> shown;
  for (const PageWall& wall : walls) {
    // Room by size, and enough for a small one beside large ones.
    const double part =
        0.7 * static_cast<double>(wall.input.skin.samples.size()) / std::max(samples, 1.0) +
        0.3 / static_cast<double>(walls.size());
    const OfJob of_job{wall.number + 1, job.walls.size(), wall_name(job.walls[wall.number])};
    try {
      payloads.push_back(payload_of(
          wall.input, kRoomForFacts + static_cast<std::size_t>(room * part), &of_job, run));
      shown.push_back(wall);
    } catch (const RunError&) { // more thin samples than there is room for: its numbers stay
      if (&wall == &walls.back() && shown.empty())
        throw;
    }
  }
  const auto data_wall = [&](std::size_t i) {
    return fmt::format(" data-wall=\"{}\"", shown[i].number + 1);
  };
  std::string more =
      fmt::format("<script type=\"application/json\" id=\"job-facts\">{}</script>\n", said);
  for (std::size_t i = 1; i < payloads.size(); ++i)
    more += fmt::format("<script type=\"application/json\" id=\"facts-{0}\"{1}>{2}</script>\n"
                        "<script type=\"text/plain\" id=\"numbers-{0}\">{3}</script>\n",
                        i + 1, data_wall(i), payloads[i].facts, payloads[i].numbers);
  const PageInput& seen = shown.front().input;
  const Still still = shown.front().number == walls.front().number ? first : Still(seen, job);
  return filled_page(seen, job, still, payloads.front(), job_html(job, shown, inch), data_wall(0),
                     more);
}

} // namespace leastwall
