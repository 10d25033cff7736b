// Every advice can be done where it says and does what it promises: it is written into its job, the
// job is read and computed anew, and verdict and gain come out as told.
#include "budget/budget_support.h"

#include "bed/bed_map.h"
#include "budget/budget.h"
#include "budget/effects/cut_area.h"
#include "job/job_text.h"
#include "setup/place.h"

#include <cmath>
#include <cstdio>
#include <doctest/doctest.h>
#include <map>
#include <random>

using namespace leastwall;
using namespace leastwall::test;

namespace {

using Random = std::mt19937;

double any(Random& random, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(random);
}
bool one_of(Random& random, int n) {
  return std::uniform_int_distribution<int>(1, n)(random) == 1;
}

/// A form of 60 x 40 mm in a board of 120 x 80 mm.
std::vector<WallSample> form(double wall) {
  std::vector<WallSample> samples;
  for (double x = -30; x <= 30; x += 7.5)
    for (double y = -20; y <= 20; y += 5) {
      const double r2 = x * x / 1600 + y * y / 900;
      const Vec3 n{x / 40, y / 30, -1};
      samples.push_back({{x, y, -25 + 10 * r2}, unit(n), wall + 0.1 * r2});
    }
  return samples;
}

std::string toml(const JobChange& change) {
  if (const auto* word = std::get_if<std::string>(&change.value))
    return fmt::format("\"{}\"", *word);
  if (const auto* length = std::get_if<double>(&change.value))
    return fmt::format("{:.9f}", *length);
  if (const auto* error = std::get_if<Uncertain>(&change.value))
    return fmt::format("{{standard = {:.9f}}}", error->size_mm);
  std::string out;
  for (const double v : std::get<std::vector<double>>(change.value))
    out += fmt::format("{}{:.9f}", out.empty() ? "" : ", ", v);
  return "[" + out + "]";
}

JobText changed(JobText text, const std::vector<JobChange>& set) {
  for (const JobChange& change : set) {
    const std::size_t dot = change.key.rfind('.');
    const std::string table = change.key.substr(0, dot), key = change.key.substr(dot + 1);
    if (!std::holds_alternative<JobChange::Remove>(change.value)) {
      text.set(table, key, toml(change));
      continue;
    }
    for (auto& [name, lines] : text.tables)
      if (name == table)
        std::erase_if(lines, [&](const auto& line) { return line.first == key; });
  }
  return text;
}

struct Computed {
  Setup setup;
  Budget budget;
};

Computed computed(const JobText& text, const std::vector<WallSample>& samples, bool with_advice) {
  const Job job = parse(text.str());
  const Pocket& pocket = job.parts[0].pockets[0];
  BudgetOptions options;
  options.limit_mm = pocket.limit_mm;
  options.trials = job.trials;
  options.seed = job.seed;
  options.units = job.units;
  options.with_allowed = false;
  options.with_advice = with_advice;
  const Setup setup = setup_of(job, pocket, 0);
  return {setup, compute_budget(setup, samples, options, {})};
}

/// A bed read over the board and some way around it, as a grid of 5 x 4 places.
std::string bed_readings(Random& random) {
  const double wide = any(random, 62, 100), deep = any(random, 42, 80);
  const double crown = any(random, -0.2, 0.2), tilt = any(random, -0.2, 0.2);
  std::string out;
  for (int i = 0; i < 5; ++i)
    for (int j = 0; j < 4; ++j) {
      const double u = i / 2.0 - 1, v = j / 1.5 - 1;
      out += fmt::format("{}[{:.3f}, {:.3f}, {:.3f}]", out.empty() ? "" : ", ", u * wide, v * deep,
                         crown * (1 - u * u) + tilt * (one_of(random, 2) ? u : v) +
                             any(random, -0.05, 0.05));
    }
  return "[" + out + "]";
}

JobText random_job(Random& random) {
  JobText text;
  text.set("", "limit", fmt::format("{:.3f}", any(random, 0.7, 0.9)));
  text.set("", "trials", "150");
  text.set("board", "thickness", "30")
      .set("board", "corner", "[-60, -40]")
      .set("board", "size", "[120, 80]");
  if (one_of(random, 2))
    text.set("board", "measured", fmt::format("{:.3f}", any(random, 29.8, 30.2)));
  if (one_of(random, 2))
    text.set("board", "thickness_error", "0.05");
  if (one_of(random, 3))
    text.set("board", "variation", "0.05");
  if (one_of(random, 4))
    text.set("board", "resin_cup", "0.1");
  for (const std::string side : {"side_a", "side_b"}) {
    const bool top = one_of(random, 2);
    text.set(side, "zero", top ? "\"top\"" : "\"bed\"");
    if (!one_of(random, 4))
      text.set(side, "touch_point", top ? "[-50, 32]" : "[0, 41.5]");
    text.set(side, "touch_off", one_of(random, 2) ? "{standard = 0.02}" : "0.04");
    if (one_of(random, 3))
      text.set(side, "plate_error", "-0.03");
    if (one_of(random, 3))
      text.set(side + ".bit", "length_from", "\"tool setter\"")
          .set(side + ".bit", "setter_error", "0.03");
    if (one_of(random, 4))
      text.set(side + ".roughing", "allowance", "0.05")
          .set(side + ".roughing", "touch_off", "0.08");
    if (one_of(random, 5)) // the pocket states its own touch-off
      text.set("part.pocket." + side, "touch_off", "0.05");
  }
  if (one_of(random, 3))
    text.set("bed", "flatness", one_of(random, 2) ? "0.1" : "0");
  else
    text.set("bed", "readings", bed_readings(random))
        .set("bed", "origin", "[0, 0]")
        .set("bed", "seating", one_of(random, 2) ? "\"pressed\"" : "\"rigid\"");
  const bool dowels = one_of(random, 2);
  text.set("flip", "line", one_of(random, 2) ? "\"along x\"" : "\"along y\"")
      .set("flip", "at", one_of(random, 2) ? "0" : "2.5")
      .set("flip", "located_by", dowels ? "\"dowels\"" : "\"edges\"");
  if (!dowels)
    text.set("flip", "line_error", "0.03");
  if (dowels) {
    text.set("flip.dowels", "spacing", "70");
    if (one_of(random, 2))
      text.set("flip.dowels", "clearance", "[0.05, 0.03]");
    else
      text.set("flip.dowels", "pin_diameter", "8").set("flip.dowels", "hole_diameter", "8.06");
  }
  return text;
}

bool names(const AdviceRow& row, Side side, std::string_view key) {
  const std::string words = side == Side::a ? "side_a." : "side_b.";
  return std::ranges::any_of(
      row.set, [&](const JobChange& c) { return c.key.ends_with(words + std::string(key)); });
}

/// Judged anew, from the set-up that the changed job gives.
void check_place(const Setup& setup, Side side, const std::vector<WallSample>& samples) {
  const SideSetup& s = side == Side::a ? setup.inner : setup.outer;
  REQUIRE(s.touch_point);
  const Point2 at = *s.touch_point;
  const bool over_board = std::abs(at.x) < 60 && std::abs(at.y) < 40;
  CHECK(over_board == (s.zero == ZeroFrom::top));
  if (s.zero == ZeroFrom::top && s.bit.zero == BitZero::retouched)
    CHECK_FALSE(cut_there(samples, at, 3));
  if (s.zero == ZeroFrom::top)
    for (const Point2 pin : dowel_places(setup.flip, {0, 0}))
      CHECK(std::hypot(pin.x - at.x, pin.y - at.y) > 8);
  const Point2 on_bed = bed_place(setup, side, at);
  if (setup.bed.readings)
    CHECK(setup.bed.readings->height_mm(on_bed.x, on_bed.y));
}

} // namespace

TEST_CASE("advice written into its job: read again, the promised verdict and gain (200 jobs)") {
  Random random(16);
  std::map<std::string, int> kinds;
  int promised_safe = 0, mirrored = 0;
  for (int round = 0; round < 200; ++round) {
    const JobText text = random_job(random);
    CAPTURE(text.str());
    const std::vector<WallSample> samples = form(0.85);
    const Computed now = computed(text, samples, true);
    if (now.budget.verdict == Verdict::safe)
      CHECK(now.budget.advice.empty());
    for (const AdviceRow& row : now.budget.advice) {
      CAPTURE(row.change);
      if (row.cost == "model") {
        CHECK(row.set.empty());
        std::vector<WallSample> thicker = samples;
        for (WallSample& s : thicker)
          s.wall_mm += row.gain_mm;
        const Budget done = computed(text, thicker, false).budget;
        CHECK(done.verdict == row.verdict);
        continue;
      }
      CHECK_FALSE(row.set.empty());
      const Computed done = computed(changed(text, row.set), samples, false);
      CHECK(done.budget.verdict == row.verdict);
      CHECK(std::abs(done.budget.guaranteed_mm - now.budget.guaranteed_mm - row.gain_mm) < 0.002);
      for (const Side side : {Side::a, Side::b}) {
        if (names(row, side, "touch_point")) {
          check_place(done.setup, side, samples);
          CHECK(row.change.find(" x ") != std::string::npos);
        }
        // Who is told another zero is told where to touch it.
        if (names(row, side, "zero"))
          CHECK(names(row, side, "touch_point"));
      }
      // Where the machine shows side B's point: mirrored about the flip line, by hand.
      if (const std::size_t at = row.change.find("(X "); at != std::string::npos) {
        double x = 0, y = 0;
        REQUIRE(std::sscanf(row.change.c_str() + at, "(X %lf Y %lf with side B up)", &x, &y) == 2);
        const Flip& flip = done.setup.flip;
        const Point2 touch = done.setup.outer.touch_point.value();
        const bool along_y = flip.line == FlipLine::along_y;
        CHECK(std::abs(x - (along_y ? 2 * flip.at_mm - touch.x : touch.x)) < 0.051);
        CHECK(std::abs(y - (along_y ? touch.y : 2 * flip.at_mm - touch.y)) < 0.051);
        ++mirrored;
      }
      for (const Point2 pin : dowel_places(done.setup.flip, {0, 0})) {
        CHECK(std::abs(pin.x) < 60);
        CHECK(std::abs(pin.y) < 40);
      }
      kinds[row.change.substr(0, row.change.find_first_of(" ", 6))] += 1;
      promised_safe += row.verdict == Verdict::safe ? 1 : 0;
    }
  }
  CHECK(kinds.size() >= 10);
  CHECK(promised_safe > 100);
  CHECK(mirrored > 50);
}

TEST_CASE("advice for a job in inches: its values are in inches") {
  JobText text;
  text.tables.clear();
  text.set("", "units", "\"inch\"").set("", "limit", "0.030").set("", "trials", "400");
  text.set("board", "thickness", "1.2")
      .set("board", "measured", "1.212")
      .set("board", "corner", "[-2.4, -1.6]")
      .set("board", "size", "[4.8, 3.2]");
  for (const char* side : {"side_a", "side_b"})
    text.set(side, "zero", "\"bed\"").set(side, "touch_off", "0.002");
  text.set("bed", "flatness", "0.001");
  text.set("part", "skin", "\"s.stl\"").set("part.pocket", "mesh", "\"p.stl\"");
  const std::vector<WallSample> samples = form(0.9);
  const Computed now = computed(text, samples, true);
  REQUIRE(now.budget.verdict != Verdict::safe);
  REQUIRE(now.budget.advice.size() > 4);
  for (const AdviceRow& row : now.budget.advice) {
    CAPTURE(row.change);
    if (row.cost == "model")
      continue;
    const Computed done = computed(changed(text, row.set), samples, false);
    CHECK(done.budget.verdict == row.verdict);
    CHECK(std::abs(done.budget.guaranteed_mm - now.budget.guaranteed_mm - row.gain_mm) < 0.002);
  }
}

TEST_CASE("advice that needs a place that no one knows is not given") {
  const std::vector<WallSample> samples = form(0.85);
  JobText text;
  text.set("", "limit", "0.8").set("", "trials", "200");
  text.set("board", "measured", "30.3").set("side_a", "zero", "\"bed\"");
  const auto advised = [&](const std::string& words) {
    const Budget b = computed(text, samples, true).budget;
    REQUIRE(b.verdict != Verdict::safe);
    return std::ranges::any_of(b.advice, [&](const AdviceRow& row) {
      return row.change.find(words) != std::string::npos;
    });
  };
  // Board and bed not stated: any place of uncut wood does.
  CHECK(advised("Zero side B on top of the board, touched on uncut wood outside the part"));
  // The bed was read, and no one knows where the board ends.
  const std::string read =
      "[[-70, -50, 0.1], [70, -50, 0], [-70, 50, 0], [70, 50, 0.1], [0, 0, 0.2]]";
  text.set("bed", "readings", read).set("bed", "seating", "\"pressed\"");
  CHECK_FALSE(advised("Zero side B on top"));
  text.set("board", "corner", "[-60, -40]").set("board", "size", "[120, 80]");
  CHECK(advised("Zero side B on top of the board, touched on uncut wood at x "));
  CHECK(advised(" with side B up)")); // where the machine shows it then
  // Readings under the board alone: no bare bed was read.
  text.set("board", "measured", "29.7");
  text.set("side_a", "zero", "\"top\"").set("side_b", "zero", "\"top\"");
  CHECK(advised("on the bed, touched beside the board at x "));
  CHECK_FALSE(advised("(the bed there as")); // it was read there
  text.set("bed", "readings",
           "[[-60, -40, 0.1], [60, -40, 0], [-60, 40, 0], [60, 40, 0.1], [0, 0, 0.2]]");
  CHECK_FALSE(advised("on the bed, touched"));
  // A board that is cut up to its edge has no wood left to touch again.
  text.set("bed", "readings", read);
  text.set("board", "measured", "30.3");
  text.set("side_a", "zero", "\"bed\"").set("side_b", "zero", "\"bed\"");
  CHECK(advised("on top of the board"));
  text.set("board", "corner", "[-31, -21]").set("board", "size", "[62, 42]");
  CHECK_FALSE(advised("on top of the board"));
}
