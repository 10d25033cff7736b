#include "report/page/page.h"

#include "base/errors.h"
#include "budget/effects/spread.h"
#include "report/sample_walls.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace leastwall;
using Json = nlohmann::json;

namespace {

/// Base64 back to bytes (RFC 4648, section 4), written apart from the writer.
std::string decoded(const std::string& text) {
  const std::string digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  unsigned bits = 0;
  int have = 0;
  for (const char c : text) {
    if (c == '=')
      break;
    const std::size_t digit = digits.find(c);
    REQUIRE(digit != std::string::npos);
    bits = bits << 6 | static_cast<unsigned>(digit);
    have += 6;
    if (have >= 8) {
      have -= 8;
      out += static_cast<char>(bits >> have & 0xff);
    }
  }
  return out;
}

std::string between(const std::string& page, const std::string& open, const std::string& close) {
  const std::size_t from = page.find(open);
  REQUIRE(from != std::string::npos);
  const std::size_t to = page.find(close, from + open.size());
  REQUIRE(to != std::string::npos);
  return page.substr(from + open.size(), to - from - open.size());
}

/// What the page holds, read back.
struct ReadPage {
  Json facts;
  std::string bytes;

  explicit ReadPage(const std::string& page)
      : facts(Json::parse(between(page, "id=\"facts\">", "</script>"))),
        bytes(decoded(between(page, "id=\"numbers\">", "</script>"))) {}

  template <class T> T number(const char* array, std::size_t i) const {
    const auto at = facts["arrays"][array][0].get<std::size_t>();
    REQUIRE(i < facts["arrays"][array][1].get<std::size_t>());
    T value;
    std::memcpy(&value, bytes.data() + at + i * sizeof value, sizeof value);
    return value;
  }
  std::size_t samples() const { return facts["samples"].get<std::size_t>(); }
  double column(std::size_t j, std::size_t i) const {
    return number<std::int16_t>("columns", j * samples() + i) * facts["scales"][j].get<double>();
  }
  /// Expected and worst wall of sample i with these sizes, by the words of causes/model/cause.h.
  std::pair<double, double> walls(std::size_t i, const std::vector<double>& sizes) const {
    double expected = static_cast<double>(number<float>("wall", i)), half = 0;
    for (std::size_t k = 0; k < sizes.size(); ++k) {
      const Json& c = facts["causes"][k];
      const double s = c["factor"].get<double>() * column(c["column"], i);
      const std::string d = c["distribution"];
      if (d == "shift")
        expected += s * sizes[k];
      else if (d == "normal")
        half += 2 * std::abs(s) * sizes[k];
      else if (d == "half-uniform") {
        expected += s * sizes[k] / 2;
        half += std::abs(s) * sizes[k] / 2;
      } else if (d == "disc")
        half += sizes[k] * std::hypot(s, c["factor2"].get<double>() * column(c["column2"], i));
      else if (d == "rectangle")
        half += std::abs(s) * sizes[k];
      else
        FAIL("cause of another kind: " << d);
    }
    return {expected, expected - half};
  }
};

/// Touch-offs, a bed, a touch plate, dowels, runout: every kind of cause but roughing.
Setup full_setup() {
  Setup setup;
  setup.board.assumed_thickness_mm = 20;
  setup.board.thickness_error = {0.1, Knowledge::limits};
  setup.inner.touch_off = {0.05, Knowledge::limits};
  setup.outer.touch_off = {0.03, Knowledge::standard};
  setup.inner.plate_error_mm = 0.04;
  setup.outer.bit.runout_mm = 0.02;
  setup.outer.sanding_mm = 0.05;
  setup.bed.flatness_mm = 0.08;
  setup.flip.dowels = Dowels{0.04, 0.03, 110, std::nullopt, true};
  return setup;
}

/// A trough of a bowl, n by n squares, walls between `low` and `high` mm with a valley.
WallMap bowl(int n, double low, double high) {
  sample::Plate plate;
  plate.nx = plate.ny = n;
  plate.y1 = 100;
  plate.z = [](double x, double y) {
    return -30 + 0.004 * ((x - 50) * (x - 50) + (y - 50) * (y - 50));
  };
  plate.wall = [=](double x, double y) {
    const double off = std::abs(x - 30 - 5 * std::sin(y / 9)) / 70;
    return low + (high - low) * std::min(1.0, off * off * 4) + 0.02 * std::sin(y / 3);
  };
  WallMap map = sample::wall_map(plate);
  for (WallSample& s : map.samples) {
    const Vec3 n_up{-0.008 * (s.at.x - 50), -0.008 * (s.at.y - 50), 1};
    s.n = n_up * (-1 / length(n_up));
  }
  return map;
}

struct Made {
  WallMap map;
  Setup setup = full_setup();
  BudgetOptions options;
  Budget budget;
  CheckReport report = sample::full_report();
  std::string page;

  explicit Made(WallMap m) : map(std::move(m)) {
    options.limit_mm = 0.6;
    options.trials = 100;
    options.with_allowed = options.with_advice = false;
    budget = compute_budget(setup, map.samples, options, {});
    report.wall.limit_mm = options.limit_mm;
    report.wall.causes = budget.causes;
    page = page_html({report, map, budget, options, setup}, {});
  }

  std::vector<double> sizes(double times) const {
    std::vector<double> out;
    for (std::size_t k = 0; k < budget.cause_model.size(); ++k)
      out.push_back(budget.cause_model[k].size * (times + (k % 3 == 0 ? 0.4 : 0.0)));
    return out;
  }
  /// Least walls of all samples with other sizes, by the program's own rules.
  std::pair<double, double> least(const std::vector<double>& with) const {
    std::vector<Cause> causes = budget.cause_model;
    for (std::size_t k = 0; k < causes.size(); ++k)
      causes[k].size = with[k];
    std::vector<Effect> effects(causes.size());
    std::pair<double, double> out{1e9, 1e9};
    for (const WallSample& s : map.samples) {
      effects_at(causes, s, effects);
      const Effect sum = sum_of(effects);
      out.first = std::min(out.first, s.wall_mm + sum.shift);
      out.second = std::min(out.second, s.wall_mm + sum.shift - sum.half_width);
    }
    return out;
  }
  void compare(const ReadPage& read, double times) const {
    const std::vector<double> with = sizes(times);
    const std::pair<double, double> wanted = least(with);
    std::pair<double, double> got{1e9, 1e9};
    for (std::size_t i = 0; i < read.samples(); ++i) {
      const auto [expected, worst] = read.walls(i, with);
      got.first = std::min(got.first, expected);
      got.second = std::min(got.second, worst);
    }
    CAPTURE(times);
    CHECK(std::abs(got.first - wanted.first) <= 0.001);
    CHECK(std::abs(got.second - wanted.second) <= 0.001);
  }
};

} // namespace

TEST_CASE("the page holds every sample of a small piece, and its walls are the program's") {
  const Made made(bowl(60, 0.4, 3));
  const ReadPage read(made.page);
  REQUIRE(read.samples() == made.map.samples.size());
  CHECK(read.facts["within_mm"] == 0);
  CHECK(read.facts["arrays"]["cells"][1] == 3 * made.map.cells.size());
  CHECK(made.budget.cause_model.size() >= 8);
  const std::vector<double> stated = made.sizes(1);
  std::vector<double> as_stated;
  for (const Cause& c : made.budget.cause_model)
    as_stated.push_back(c.size);
  const Json &low = read.facts["box"][0], &high = read.facts["box"][1];
  for (std::size_t i = 0; i < read.samples(); ++i) {
    const auto [expected, worst] = read.walls(i, as_stated);
    CHECK(std::abs(expected - made.budget.expected_mm[i]) < 0.0002);
    CHECK(std::abs(worst - made.budget.worst_mm[i]) < 0.0002);
    const double x = low[0].get<double>() + (high[0].get<double>() - low[0].get<double>()) *
                                                read.number<std::uint16_t>("at", 3 * i) / 65535;
    CHECK(std::abs(x - made.map.samples[i].at.x) < 0.002);
  }
  for (const double times : {0.0, 0.5, 1.0, 2.0, 2.6})
    made.compare(read, times);
  CHECK(page_html({made.report, made.map, made.budget, made.options, made.setup}, {}) == made.page);
}

TEST_CASE("a piece of a million triangles fits, with every thin sample in it") {
  const Made made(bowl(710, 0.4, 40));
  REQUIRE(made.map.cells.size() > 1'000'000);
  CHECK(made.page.size() < 8'000'000);
  const ReadPage read(made.page);
  CHECK(read.samples() < made.map.samples.size());
  CHECK(read.facts["samples_measured"] == made.map.samples.size());
  CHECK(read.facts["thin_merged"] == false);
  std::vector<double> as_stated;
  for (const Cause& c : made.budget.cause_model)
    as_stated.push_back(c.size);
  std::ptrdiff_t thin = 0;
  for (std::size_t i = 0; i < read.samples(); ++i)
    thin += read.walls(i, as_stated).second < made.options.limit_mm + 0.05;
  const std::ptrdiff_t thin_of_all =
      std::count_if(made.budget.worst_mm.begin(), made.budget.worst_mm.end(),
                    [&](double wall) { return wall < made.options.limit_mm + 0.05; });
  CHECK(thin_of_all > 10000);
  // Those within rounding of the edge may be counted either way.
  CHECK(std::abs(thin - thin_of_all) < 50);
  for (const double times : {0.0, 1.0, 2.6})
    made.compare(read, times);
  MESSAGE(made.page.size() << " bytes, " << read.samples() << " samples of "
                           << made.map.samples.size() << ", within " << read.facts["within_mm"]);
}

TEST_CASE("a piece of a million triangles that is thin everywhere fits as well") {
  const Made made(bowl(710, 0.55, 0.75));
  CHECK(made.page.size() < 8'000'000);
  const ReadPage read(made.page);
  for (const double times : {0.0, 1.0, 2.6})
    made.compare(read, times);
  MESSAGE(made.page.size() << " bytes, " << read.samples() << " samples of "
                           << made.map.samples.size() << ", within " << read.facts["within_mm"]);
}

TEST_CASE("the page asks for nothing outside itself and no text breaks out of it") {
  WallMap map = bowl(10, 0.4, 3);
  Made made(std::move(map));
  made.report.title = "<script>alert(1)</script> & \"sons\" {{FACTS}} \xff";
  made.report.assumptions = {{"</script><b>bold</b>"}};
  const std::string page =
      page_html({made.report, made.map, made.budget, made.options, made.setup}, {});
  CHECK(page.find("<script>alert(1)") == std::string::npos);
  CHECK(page.find("</script><b>bold") == std::string::npos);
  CHECK(page.find("<title>TOO THIN: &lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;sons&quot; "
                  "{{FACTS}}") != std::string::npos);
  const ReadPage read(page);
  CHECK(read.facts["report"]["assumptions"][0] == "</script><b>bold</b>");
  made.report.wall.verdict = Verdict::unproven; // the finding stands under the large words
  made.report.warnings = {
      {"meshes-apart", "<b>skin</b>.stl lies apart. Look.", Severity::unproven}};
  const std::string found =
      page_html({made.report, made.map, made.budget, made.options, made.setup}, {});
  CHECK(found.find("&lt;b&gt;skin&lt;/b&gt;.stl lies apart</p>") != std::string::npos);
  CHECK(found.substr(0, found.find("id=\"facts\">")).find("<b>skin") == std::string::npos);
  // What would make a browser fetch something: references in markup and style.
  const std::string markup = page.substr(0, page.find("id=\"facts\">"));
  for (const char* reference : {"src=", "url(", "@import", "href=\"http"})
    CHECK_MESSAGE(markup.find(reference) == std::string::npos, reference);
  CHECK(markup.find("default-src 'none'") != std::string::npos);
}

TEST_CASE("the page refuses counts that do not match") {
  Made made(bowl(10, 0.4, 3));
  made.budget.worst_mm.pop_back();
  CHECK_THROWS_AS(page_html({made.report, made.map, made.budget, made.options, made.setup}, {}),
                  RunError);
}

namespace {

/// A job of two walls.
CheckReport job_of(const Made& one, const Made& other) {
  CheckReport job = one.report;
  job.walls = {{"left <half>", "skin", "candle room", "wood", one.report.wall},
               {"left <half>", "candle room", "ember & ash", "amber", other.report.wall}};
  job.governing = 1;
  return job;
}

PageInput input_of(const Made& made) {
  return {made.report, made.map, made.budget, made.options, made.setup};
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t n = 0;
  for (std::size_t at = text.find(part); at != text.npos; at = text.find(part, at + 1))
    ++n;
  return n;
}

} // namespace

TEST_CASE(
    "a page of two walls holds both, the first one first, and links to each; names are text") {
  const Made one(bowl(40, 0.4, 3)), other(bowl(30, 0.9, 3));
  const std::vector<PageWall> walls{{1, input_of(other)}, {0, input_of(one)}};
  const CheckReport job = job_of(one, other);
  const std::string page = job_page_html(job, walls, {});
  CHECK(page == job_page_html(job, walls, {}));
  CHECK(count_of(page, "href=\"#wall-") == 2);
  CHECK(page.find("left &lt;half&gt;: candle room to ember &amp; ash") != page.npos);
  CHECK(page.find("left <half>") == page.npos);
  const Json first = Json::parse(between(page, "id=\"facts\" data-wall=\"2\">", "</script>"));
  const Json second = Json::parse(between(page, "id=\"facts-2\" data-wall=\"1\">", "</script>"));
  CHECK(first["of_job"]["number"] == 2);
  CHECK(second["of_job"]["number"] == 1);
  CHECK(first["samples_measured"] == other.map.samples.size());
  CHECK(second["samples_measured"] == one.map.samples.size());
  // Walls as they were found, for looking at beside another one.
  const std::string bytes = decoded(between(page, "id=\"numbers-2\">", "</script>"));
  for (const char* name : {"expected", "worst"}) {
    const auto& walls_mm =
        name == std::string("expected") ? one.budget.expected_mm : one.budget.worst_mm;
    REQUIRE(second["arrays"][name][1] == walls_mm.size()); // all samples are kept
    for (const std::size_t i : {std::size_t{0}, walls_mm.size() / 2, walls_mm.size() - 1}) {
      float value;
      std::memcpy(&value, bytes.data() + second["arrays"][name][0].get<std::size_t>() + 4 * i, 4);
      CHECK(static_cast<double>(value) == doctest::Approx(walls_mm[i]).epsilon(1e-6));
    }
  }
  CHECK(count_of(page_html(input_of(one), {}), "id=\"job\"") == 0);
}

TEST_CASE("a wall that has no room on the page keeps its line, the page stays within its bounds") {
  const Made large(bowl(400, 0.55, 0.65)), small(bowl(8, 0.9, 3));
  std::vector<PageWall> walls{{0, input_of(large)}, {1, input_of(small)}};
  const std::size_t alone = page_html(input_of(small), {}).size();
  // The least room, by steps, that the small one has beside what each page carries.
  std::string page;
  for (std::size_t more = 490'000; page.empty() && more < 600'000; more += 3'000) {
    walls.front().input.max_bytes = alone + more;
    try {
      page = job_page_html(job_of(large, small), walls, {});
    } catch (const RunError&) {
    }
  }
  CHECK(page.size() <= walls.front().input.max_bytes);
  CHECK(count_of(page, "href=\"#wall-2\"") == 1);
  CHECK(count_of(page, "href=\"#wall-1\"") == 0);
  CHECK(page.find("1. left &lt;half&gt;: skin to candle room") != page.npos);
  CHECK(page.find("id=\"facts\" data-wall=\"2\"") != page.npos);
}
