#include "report/page/page.h"

#include "base/errors.h"
#include "budget/trials/counter_rng.h"
#include "job/keys/known_keys.h"
#include "report/draw/base64.h"
#include "report/draw/colour_map.h"
#include "report/draw/little_endian.h"
#include "report/json/json_report.h"
#include "report/page/page_assets.h"
#include "report/page/page_bed.h"
#include "report/page/page_causes.h"
#include "report/page/page_samples.h"
#include "report/words/cause_text.h"
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

using Bytes = std::vector<std::uint8_t>;

constexpr std::uint64_t kMaxTrials = 20000; // the page runs no more of the same trials
constexpr std::size_t kMaxRegions = 100;
constexpr std::size_t kRoomForFacts = 200'000;

std::string html_text(std::string_view text) {
  std::string out;
  for (const char c : text)
    switch (c) {
    case '&':
      out += "&amp;";
      break;
    case '<':
      out += "&lt;";
      break;
    case '>':
      out += "&gt;";
      break;
    case '"':
      out += "&quot;";
      break;
    default:
      out += c;
    }
  return out;
}

/// JSON that cannot end the script element it stands in.
std::string json_text(const Json& json) {
  std::string out;
  for (const char c : json.dump(-1, ' ', false, Json::error_handler_t::replace))
    if (c == '<')
      out += "\\u003c";
    else
      out += c;
  return out;
}

Json two_halves(std::uint64_t number) {
  return Json::array({number >> 32, number & 0xffffffffu});
}

/// How an error of size 1 counts and how far a draw of it reaches; the page scales it.
Json unit_facts(const Distribution& d) {
  return {{"middle", d.middle(1)},
          {"half", d.half_width(1)},
          {"u", d.u(1)},
          {"draw", d.largest_draw()}};
}

Json cause_facts(const Cause& cause, const PageCause& page) {
  Json out = {{"name", cause_text_with_side(cause.id)},
              {"distribution", cause.distribution.key()},
              {"one", unit_facts(cause.distribution)},
              {"size", cause.size},
              {"unit", cause.unit},
              {"slider", Json::array({page.slider_low, page.slider_high})},
              {"column", page.first.column},
              {"factor", page.first.factor},
              {"column2", page.second.column},
              {"factor2", page.second.factor},
              {"field", cause.field != nullptr},
              {"stream", two_halves(stream_of(cause.id))}};
  if (cause.overcut)
    out["overcut"] = {{"allowance", cause.overcut->allowance_mm},
                      {"finishing", cause.overcut->finishing}};
  return out;
}

/// The arrays of the page, one after the other, each at a multiple of four bytes.
class Numbers {
 public:
  template <class Fill> void add(const char* name, std::size_t count, const Fill& fill) {
    while (bytes_.size() % 4 != 0)
      bytes_.push_back(0);
    table_[name] = Json::array({bytes_.size(), count});
    fill(bytes_);
  }
  const Bytes& bytes() const { return bytes_; }
  const Json& table() const { return table_; }

 private:
  Bytes bytes_;
  Json table_ = Json::object();
};

Json box_facts(const Box& box) {
  return Json::array({Json::array({box.low.x, box.low.y, box.low.z}),
                      Json::array({box.high.x, box.high.y, box.high.z})});
}

std::uint16_t in_box(double v, double low, double high) {
  return high > low ? static_cast<std::uint16_t>(std::lround((v - low) / (high - low) * 65535)) : 0;
}

/// Columns as 16 bits with one scale each: the largest sensitivity is 32767.
std::vector<double> column_scales(const PageCauses& causes, const PageSamples& samples) {
  std::vector<double> scale(causes.columns, 0.0);
  for (const std::uint32_t i : samples.kept)
    for (std::size_t j = 0; j < causes.columns; ++j)
      scale[j] =
          std::max(scale[j], std::abs(static_cast<double>(causes.values[i * causes.columns + j])));
  for (double& s : scale)
    s /= 32767;
  return scale;
}

/// Errors that vary over the piece as each sample carries them: as many slots for every sample as
/// the fullest one needs, each the number of an error and what it does, 16 bits of `scale`.
struct PageShares {
  std::size_t slots = 0;
  double scale = 0;
  std::uint32_t none = 0; ///< number in a slot that is not used
};

PageShares page_shares(const PageCauses& causes, const PageSamples& samples) {
  PageShares out;
  out.none = static_cast<std::uint32_t>(causes.local.size());
  for (const std::uint32_t i : samples.kept) {
    const std::span<const ErrorShare> mine = causes.shares_of(i);
    out.slots = std::max(out.slots, mine.size());
    for (const ErrorShare& s : mine)
      out.scale = std::max(out.scale, std::abs(s.c) / 32767);
  }
  return out;
}

void add_shares(const PageCauses& causes, const PageSamples& samples, const PageShares& shares,
                Numbers& out) {
  const std::size_t n = samples.kept.size();
  const auto each = [&](const auto& write) {
    for (std::size_t slot = 0; slot < shares.slots; ++slot)
      for (const std::uint32_t i : samples.kept) {
        const std::span<const ErrorShare> mine = causes.shares_of(i);
        write(slot < mine.size() ? mine[slot] : ErrorShare{shares.none, 0});
      }
  };
  out.add("share_error", shares.slots * n, [&](Bytes& to) {
    each([&](const ErrorShare& s) {
      if (causes.local.size() < 65536)
        append_le(to, static_cast<std::uint16_t>(s.error));
      else
        append_le(to, s.error);
    });
  });
  out.add("share_c", shares.slots * n, [&](Bytes& to) {
    each([&](const ErrorShare& s) {
      append_le(to, static_cast<std::int16_t>(std::lround(s.c / shares.scale)));
    });
  });
}

void add_walls(const char* name, std::span<const double> walls_mm, const PageSamples& samples,
               Numbers& out) {
  out.add(name, samples.kept.size(), [&](Bytes& to) {
    for (const std::uint32_t i : samples.kept)
      append_le(to, static_cast<float>(walls_mm[i]));
  });
}

Numbers numbers_of(const WallMap& skin, const PageCauses& causes, const PageSamples& samples,
                   const Box& box, const std::vector<double>& scales) {
  Numbers out;
  const std::size_t n = samples.kept.size();
  out.add("wall", n, [&](Bytes& to) {
    for (const std::uint32_t i : samples.kept)
      append_le(to, static_cast<float>(skin.samples[i].wall_mm));
  });
  out.add("at", 3 * n, [&](Bytes& to) {
    for (const std::uint32_t i : samples.kept) {
      const Vec3 p = skin.samples[i].at;
      append_le(to, in_box(p.x, box.low.x, box.high.x));
      append_le(to, in_box(p.y, box.low.y, box.high.y));
      append_le(to, in_box(p.z, box.low.z, box.high.z));
    }
  });
  out.add("through", 3 * n, [&](Bytes& to) {
    for (const std::uint32_t i : samples.kept) {
      const Vec3 v = skin.samples[i].n;
      for (const double c : {v.x, v.y, v.z})
        append_le(to, static_cast<std::int8_t>(std::lround(127 * std::clamp(c, -1.0, 1.0))));
    }
  });
  out.add("columns", causes.columns * n, [&](Bytes& to) {
    for (std::size_t j = 0; j < causes.columns; ++j)
      for (const std::uint32_t i : samples.kept) {
        const double c = causes.values[i * causes.columns + j];
        append_le(to, static_cast<std::int16_t>(scales[j] > 0 ? std::lround(c / scales[j]) : 0));
      }
  });
  out.add("cells", 3 * samples.cells.size(), [&](Bytes& to) {
    for (const Tri& cell : samples.cells)
      for (const std::uint32_t corner : cell) {
        if (n <= 65536)
          append_le(to, static_cast<std::uint16_t>(corner));
        else
          append_le(to, corner);
      }
  });
  return out;
}

std::string palette() {
  std::string out;
  for (const Rgb& c : viridis())
    out += fmt::format("{:02x}{:02x}{:02x}", c.r, c.g, c.b);
  return out;
}

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

} // namespace

namespace {

/// Of a page with several walls: which one it is.
struct OfJob {
  std::size_t number = 1, of = 1;
  std::string name;
};

/// One wall as the page computes with it.
struct Payload {
  std::string facts, numbers; ///< JSON and base64
};

std::size_t fixed_bytes() {
  return page_template().size() + page_style().size() + page_script().size() + page_three().size();
}

/// `max_bytes`: of facts and numbers together.
Payload payload_of(const PageInput& input, std::size_t max_bytes, const OfJob* of_job,
                   const RunContext& run) {
  const WallMap& skin = input.skin;
  const Budget& budget = input.budget;
  if (skin.samples.empty() || budget.expected_mm.size() != skin.samples.size() ||
      budget.worst_mm.size() != skin.samples.size())
    throw RunError("page: the number of walls differs from the number of samples; please keep the "
                   "meshes and report it as a fault of leastwall");
  const PageCauses causes = page_causes(budget.cause_model, skin.samples, run);
  PageSamplesOptions thin;
  thin.max_bytes = max_bytes > kRoomForFacts ? (max_bytes - kRoomForFacts) / 4 * 3 : 0;
  std::size_t slots = 0;
  for (std::size_t i = 0; i < skin.samples.size(); ++i)
    slots = std::max(slots, causes.shares_of(i).size());
  thin.bytes_per_sample = 4 + 6 + 3 + (of_job != nullptr ? 8 : 0) + 2 * causes.columns +
                          slots * (causes.local.size() < 65536 ? 4 : 6);
  thin.thin_mm = input.options.limit_mm + 0.1;
  thin.always = {
      static_cast<std::uint32_t>(budget.least.sample),
      static_cast<std::uint32_t>(std::min_element(budget.worst_mm.begin(), budget.worst_mm.end()) -
                                 budget.worst_mm.begin())};
  const PageSamples samples = page_samples(skin, budget.worst_mm, causes, thin, run);

  Box box;
  for (const std::uint32_t i : samples.kept)
    box.add(skin.samples[i].at);
  const std::vector<double> scales = column_scales(causes, samples);
  Numbers numbers = numbers_of(skin, causes, samples, box, scales);
  const PageShares shares = page_shares(causes, samples);
  if (shares.slots > 0)
    add_shares(causes, samples, shares, numbers);
  if (of_job != nullptr) { // to be shown beside another wall
    add_walls("expected", budget.expected_mm, samples, numbers);
    add_walls("worst", budget.worst_mm, samples, numbers);
  }

  Json facts;
  CheckReport shown = input.report;
  shown.wall.regions.resize(std::min(shown.wall.regions.size(), kMaxRegions));
  facts["report"] = Json::parse(json_report(shown));
  facts["thin_places"] = input.report.wall.regions.size();
  facts["limit_mm"] = input.options.limit_mm;
  facts["limit_tolerance_mm"] = kLimitTolerance_mm;
  facts["limit_least_mm"] = find_key("", "limit")->least;
  facts["basis"] = input.options.basis == VerdictBasis::chance ? "chance" : "worst-case";
  facts["accepted_chance"] = input.options.accepted_chance;
  facts["trials"] = std::min(input.options.trials, kMaxTrials);
  facts["seed"] = two_halves(input.options.seed);
  for (const HeadlineWords& h : headline_text())
    facts["headlines"][std::string(h.key)] = {
        {"banner", h.banner}, {"ground", h.ground}, {"lead", h.lead}};
  facts["finding"] = finding_text(input.report);
  facts["flip"] = {{"along", input.setup.flip.line == FlipLine::along_y ? "y" : "x"},
                   {"at", input.setup.flip.at_mm}};
  facts["inches"] = input.inches;
  facts["bed"] = page_bed(input.setup, skin);
  facts["palette"] = palette();
  facts["scale_top_mm"] = kScaleTop_mm;
  facts["samples"] = samples.kept.size();
  facts["samples_measured"] = skin.samples.size();
  facts["within_mm"] = samples.within_mm;
  facts["thin_merged"] = samples.thin_merged;
  facts["box"] = box_facts(box);
  facts["scales"] = scales;
  facts["arrays"] = numbers.table();
  if (shares.slots > 0) {
    facts["shares"] = {{"slots", shares.slots},
                       {"scale", shares.scale},
                       {"causes", Json::array()},
                       {"parts", Json::array()}};
    for (const PageCauses::Local& error : causes.local) {
      facts["shares"]["causes"].push_back(error.cause);
      facts["shares"]["parts"].push_back(error.part);
    }
  }
  facts["causes"] = Json::array();
  for (std::size_t k = 0; k < budget.cause_model.size(); ++k)
    facts["causes"].push_back(cause_facts(budget.cause_model[k], causes.causes[k]));

  if (of_job != nullptr)
    facts["of_job"] = {{"number", of_job->number}, {"of", of_job->of}, {"name", of_job->name}};
  return {json_text(facts), base64(numbers.bytes())};
}

/// The template filled for the wall that is shown first.
std::string filled_page(const PageInput& input, const CheckReport& said, const Payload& first,
                        std::string_view job, std::string_view wall, std::string_view more) {
  const std::string title = html_text(said.title);
  const Headline headline = verdict_headline(input.report);
  const std::string ground =
      html_text(LengthText{input.inches}.sentence(headline.ground)); // a finding may name a file
  const std::string sentence = html_text(verdict_sentence(input.report, input.inches));
  const std::string look = job.empty() ? look_first_html(input.report, input.inches) : "";
  return filled(page_template(), {{"TITLE", title},
                                  {"BANNER", headline.banner},
                                  {"GROUND", ground},
                                  {"VERDICT", verdict_word(input.report.wall.verdict)},
                                  {"SENTENCE", sentence},
                                  {"LOOK_FIRST", look},
                                  {"STYLE", page_style()},
                                  {"THREE", page_three()},
                                  {"SCRIPT", page_script()},
                                  {"JOB", job},
                                  {"WALL", wall},
                                  {"MORE", more},
                                  {"FACTS", first.facts},
                                  {"NUMBERS", first.numbers}});
}

} // namespace

std::string page_html(const PageInput& input, const RunContext& run) {
  const std::size_t fixed = fixed_bytes();
  const Payload only =
      payload_of(input, input.max_bytes > fixed ? input.max_bytes - fixed : 0, nullptr, run);
  return filled_page(input, input.report, only, "", "", "");
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

/// Verdict of the job and its walls, worst first; what holds and is not shown is folded.
std::string job_html(const CheckReport& job, std::span<const PageWall> shown, bool inch) {
  const Headline headline = verdict_headline(job);
  std::vector<std::size_t> first, folded;
  for (const std::size_t w : worst_first(job.walls))
    (w != job.governing && job.walls[w].wall.verdict == Verdict::safe &&
             std::ranges::find(shown, w, &PageWall::number) == shown.end()
         ? folded
         : first)
        .push_back(w);
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
  out += "</div>\n";
  for (const SeamRow& seam : job.parts.seams)
    out += fmt::format("  <p>Seam: {}</p>\n", html_text(LengthText{inch}.sentence(fmt::format(
                                                  "{}", fmt::join(seam_sentences(seam), " ")))));
  return out + "</section>\n";
}

/// What is said of the job, for the lists of the page.
std::string job_facts(const CheckReport& job) {
  const Json all = Json::parse(json_report(job));
  Json said = Json::object();
  for (const char* key : {"verdict", "advice", "warnings", "assumptions", "not_checked"})
    said[key] = all[key];
  return json_text(said);
}

} // namespace

std::string job_page_html(const CheckReport& job, std::span<const PageWall> walls,
                          const RunContext& run) {
  if (walls.empty())
    throw RunError("page: no wall to show; please report it as a fault of leastwall");
  const bool inch = walls.front().input.inches;
  const std::string said = job_facts(job);
  const std::size_t fixed = fixed_bytes() + job_html(job, walls, inch).size() + said.size();
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
  return filled_page(shown.front().input, job, payloads.front(), job_html(job, shown, inch),
                     data_wall(0), more);
}

} // namespace leastwall
