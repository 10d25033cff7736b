#include "report/page/page_payload.h"

#include "base/text/base64.h"
#include "budget/trials/counter_rng.h"
#include "causes/unstated_causes.h"
#include "job/keys/known_keys.h"
#include "report/draw/colour_map.h"
#include "report/draw/little_endian.h"
#include "report/json/json_report.h"
#include "report/page/page_bed.h"
#include "report/page/page_causes.h"
#include "report/page/page_marks.h"
#include "report/page/page_samples.h"
#include "report/page/page_sections.h"
#include "report/page/page_words.h"
#include "report/words/cause_text.h"
#include "report/words/verdict_text.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <vector>

namespace leastwall {
namespace {

using Bytes = std::vector<std::uint8_t>;

constexpr std::uint64_t kMaxTrials = 20000; // the page runs no more of the same trials
constexpr std::size_t kMaxRegions = 100;

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

Json cause_facts(const Cause& cause, bool stated, const PageCause& page) {
  Json out = {{"name", cause_text_with_side(cause.id)},
              {"distribution", cause.distribution.key()},
              {"one", unit_facts(cause.distribution)},
              {"size", stated ? cause.size : 0},
              {"stated", stated},
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

/// The causes of the report, behind them those that can be tried from nothing, and the samples that
/// tell what they do.
struct Tried {
  std::vector<Cause> model;
  PageCauses causes;
  PageSamples samples;
};

std::size_t bytes_per_sample(const PageCauses& causes, std::size_t samples, bool of_job) {
  std::size_t slots = 0;
  for (std::size_t i = 0; i < samples; ++i)
    slots = std::max(slots, causes.shares_of(i).size());
  return 4 + 6 + 3 + (of_job ? 8 : 0) + 2 * causes.columns +
         slots * (causes.local.size() < 65536 ? 4 : 6);
}

/// What no one stated comes in as far as the promise of the page's samples holds with it: all of
/// it, the first half, what acts as something stated does, nothing.
Tried tried(const PageInput& input, PageSamplesOptions thin, bool of_job, const RunContext& run) {
  const std::vector<WallSample>& samples = input.skin.samples;
  const std::vector<Cause>& stated = input.budget.cause_model;
  const std::vector<Cause> more = unstated_causes(input.setup, stated);
  const auto with = [&](std::size_t count, std::optional<std::size_t> columns) {
    Tried out{stated, {}, {}};
    out.model.insert(out.model.end(), more.begin(),
                     more.begin() + static_cast<std::ptrdiff_t>(count));
    out.causes = page_causes(out.model, stated.size(), samples, run);
    if (columns) { // no column of its own
      std::vector<Cause> alike = stated;
      for (std::size_t k = stated.size(); k < out.model.size(); ++k)
        if (out.causes.causes[k].first.column < *columns &&
            out.causes.causes[k].second.column < *columns)
          alike.push_back(out.model[k]);
      out.model = std::move(alike);
      out.causes = page_causes(out.model, stated.size(), samples, run);
    }
    thin.strict = out.model.size() > stated.size();
    thin.bytes_per_sample = bytes_per_sample(out.causes, samples.size(), of_job);
    out.samples = page_samples(input.skin, input.budget.worst_mm, out.causes, thin, run);
    return out;
  };
  if (more.empty())
    return with(0, std::nullopt);
  for (const std::size_t count : {more.size(), more.size() / 2})
    if (Tried out = with(count, std::nullopt); !out.samples.kept.empty())
      return out;
  Tried bare = with(0, std::nullopt);
  Tried alike = with(more.size(), bare.causes.columns);
  return alike.samples.kept.empty() ? bare : alike;
}

std::string palette() {
  std::string out;
  for (const Rgb& c : viridis())
    out += fmt::format("{:02x}{:02x}{:02x}", c.r, c.g, c.b);
  return out;
}

} // namespace

std::string json_text(const Json& json) {
  std::string out;
  for (const char c : json.dump(-1, ' ', false, Json::error_handler_t::replace))
    if (c == '<')
      out += "\\u003c";
    else
      out += c;
  return out;
}

Payload payload_of(const PageInput& input, std::size_t max_bytes, const OfJob* of_job,
                   const RunContext& run) {
  const WallMap& skin = input.skin;
  const Budget& budget = input.budget;
  PageSamplesOptions thin;
  thin.max_bytes = max_bytes > kRoomForFacts ? (max_bytes - kRoomForFacts) / 4 * 3 : 0;
  thin.thin_mm = input.options.limit_mm + 0.1;
  thin.always = {
      static_cast<std::uint32_t>(budget.least.sample),
      static_cast<std::uint32_t>(std::min_element(budget.worst_mm.begin(), budget.worst_mm.end()) -
                                 budget.worst_mm.begin())};
  const Tried all = tried(input, thin, of_job != nullptr, run);
  const PageCauses& causes = all.causes;
  const PageSamples& samples = all.samples;

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
  facts["words"] = page_words();
  facts["in_inches"] =
      of_job != nullptr ? finding_in_inches(input.report) : words_in_inches(input.report);
  facts["flip"] = {{"along", input.setup.flip.line == FlipLine::along_y ? "y" : "x"},
                   {"at", input.setup.flip.at_mm}};
  facts["marks"] = page_marks(input.setup, input.report.box, skin);
  facts["sections"] = page_sections(input);
  facts["inches"] = input.inches;
  facts["bed"] = page_bed(input.setup, skin);
  facts["palette"] = palette();
  facts["scale"] = {
      {"top_mm", kScaleTop_mm}, {"knee_mm", kScaleKnee_mm}, {"knee_place", kScaleKneePlace}};
  facts["samples"] = samples.kept.size();
  facts["samples_measured"] = skin.samples.size();
  facts["within_mm"] = samples.within_mm;
  facts["thin_merged"] = samples.thin_merged;
  facts["settings_tried"] = kPageSettings;
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
  for (std::size_t k = 0; k < all.model.size(); ++k)
    facts["causes"].push_back(
        cause_facts(all.model[k], k < budget.cause_model.size(), causes.causes[k]));

  if (of_job != nullptr)
    facts["of_job"] = {{"number", of_job->number}, {"of", of_job->of}, {"name", of_job->name}};
  return {json_text(facts), base64(numbers.bytes())};
}

} // namespace leastwall
