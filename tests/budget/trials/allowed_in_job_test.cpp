// "May be" is the value of a key of the job: typed into the job it is safe, and 0.002 more is not.
#include "budget/budget_support.h"

#include "budget/budget.h"
#include "budget/trials/allowed_error.h"
#include "causes/causes.h"
#include "job/job_text.h"

#include "report/words/cause_text.h"
#include <cmath>

#include <doctest/doctest.h>
#include <map>
#include <random>
#include <set>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

// A bowl that is thinnest at its bottom, with slopes all round.
std::vector<WallSample> bowl(double wall) {
  std::vector<WallSample> samples;
  for (double x = -0.9; x <= 0.9; x += 0.3)
    for (double y = -0.9; y <= 0.9; y += 0.3)
      if (x * x + y * y < 0.9) {
        const Vec3 n{x, y, -std::sqrt(1 - x * x - y * y)};
        samples.push_back({{40 * x, 40 * y, -10}, n, wall + 0.05 * (x * x + y * y)});
      }
  return samples;
}

Budget budget_of(const JobText& text, const std::vector<WallSample>& samples,
                 VerdictBasis basis = VerdictBasis::chance, bool with_allowed = true) {
  const Job job = parse(text.str());
  BudgetOptions options;
  options.limit_mm = job.parts[0].pockets[0].limit_mm;
  options.trials = job.trials;
  options.seed = job.seed;
  options.basis = basis;
  options.with_allowed = with_allowed;
  options.with_advice = false;
  return compute_budget(setup_of(job, job.parts[0].pockets[0], 0), samples, options, {});
}

/// "side_a.bit.runout" is the key `runout` of the table `side_a.bit`.
void state(JobText& text, const std::string& path, const std::string& value) {
  const std::size_t dot = path.rfind('.');
  text.set(path.substr(0, dot), path.substr(dot + 1), value);
}

/// The job with this much in the key; `standard` keeps what is known a standard uncertainty.
JobText with(const JobText& job, const CauseRow& row, double value) {
  JobText text = job;
  std::string words = fmt::format("{:.3f}", value);
  if (row.distribution == Distribution::normal)
    words = "{standard = " + words + "}";
  const std::size_t pin = row.key.find(", pin ");
  if (pin != std::string::npos) {
    words = row.key.ends_with("1") ? fmt::format("[{}, 0.02]", words)
                                   : fmt::format("[0.03, {}]", words);
    state(text, row.key.substr(0, pin), words);
  } else {
    state(text, row.key, words);
  }
  return text;
}

JobText full_job(bool tool_setter, bool readings, bool pins) {
  JobText text;
  text.set("", "limit", "0.5").set("", "trials", "600");
  text.set("board", "thickness_error", "0.03")
      .set("board", "variation", "0.02")
      .set("board", "corner", "[-60, -60]")
      .set("board", "size", "[120, 120]")
      .set("board", "swelling", "0.002")
      .set("board", "moisture_gain", "0.4")
      .set("board", "resin_cup", "0.02");
  for (const std::string side : {"side_a", "side_b"}) {
    text.set(side, "touch_off", side == "side_a" ? "0.03" : "{standard = 0.02}")
        .set(side, "plate_error", side == "side_a" ? "-0.02" : "0.01")
        .set(side, "sanding", "0.05")
        .set(side, "sanding_error", "0.02");
    text.set(side + ".bit", "ball_radius", "3")
        .set(side + ".bit", "radius_error", "0.02")
        .set(side + ".bit", "runout", "0.02")
        .set(side + ".bit", "tip_height", "0.01");
    if (tool_setter)
      text.set(side + ".bit", "length_from", "\"tool setter\"")
          .set(side + ".bit", "setter_error", "0.02");
  }
  text.set("side_a.roughing", "allowance", "0.1").set("side_a.roughing", "touch_off", "0.03");
  if (readings)
    text.set("bed", "readings", "[[-90, -90, 0], [90, -90, 0.02], [-90, 90, 0.03], [90, 90, 0]]")
        .set("bed", "reading_error", "0.02");
  else
    text.set("bed", "flatness", "0.04");
  text.set("flip", "at", "0")
      .set("flip", "located_by", "\"dowels\"")
      .set("flip", "line_error", "0.02")
      .set("flip", "out_of_square", "0.1");
  text.set("flip.dowels", "spacing", "100")
      .set("flip.dowels", "clearance", pins ? "[0.03, 0.02]" : "0.03");
  return text;
}

} // namespace

TEST_CASE("bed flatness is one key for both sides: two like rectangles, closed form") {
  // Margin m = 0.3, touch-offs of nothing; the sum of two rectangles +-F falls under -m in
  // (2F - m)^2 / (8 F^2) of all trials: 5 % at F = m / (2 - sqrt 0.4).
  JobText text;
  text.set("", "limit", "0.7").set("", "trials", "200000");
  text.set("side_a", "touch_off", "0").set("side_b", "touch_off", "0");
  text.set("bed", "flatness", "0.01");
  const std::vector<WallSample> samples = {flat_sample(0, 0, 1)};
  const Budget b = budget_of(text, samples);
  REQUIRE(b.causes.size() == 2);
  for (const CauseRow& row : b.causes) {
    CHECK(row.key == "bed.flatness");
    REQUIRE(row.largest_allowed_mm);
    CHECK(std::abs(*row.largest_allowed_mm - 0.3 / (2 - std::sqrt(0.4))) < 0.0015);
  }
  CHECK(*b.causes[0].largest_allowed_mm == *b.causes[1].largest_allowed_mm);
  // By worst case 2 F = m.
  const Budget worst = budget_of(text, samples, VerdictBasis::worst_case);
  CHECK(std::abs(*worst.causes[0].largest_allowed_mm - 0.15) < 0.0011);
}

TEST_CASE("what a row says may be, typed into its key: safe, and 0.002 more is not") {
  const std::vector<WallSample> samples = bowl(0.92);
  std::set<std::string> tried;
  for (const VerdictBasis basis : {VerdictBasis::chance, VerdictBasis::worst_case})
    for (const int kind : {0, 1, 2, 3}) {
      const JobText job = full_job(kind % 2 == 1, kind / 2 == 1, kind == 2);
      const Budget b = budget_of(job, bowl(basis == VerdictBasis::chance ? 0.92 : 1.6), basis);
      REQUIRE(b.verdict == Verdict::safe);
      std::map<std::string, double> told;
      for (const CauseRow& row : b.causes) {
        CAPTURE(cause_text(row.id));
        CAPTURE(row.key);
        if (row.unit.empty()) {
          CHECK(row.key.empty());
          continue;
        }
        REQUIRE_FALSE(row.key.empty());
        REQUIRE(row.largest_allowed_mm);
        const double most = *row.largest_allowed_mm;
        const auto [at, first] = told.emplace(row.key, most);
        CHECK(at->second == most);
        if (!first)
          continue;
        tried.insert(row.key);
        const auto verdict = [&](double value) {
          return budget_of(with(job, row, value), bowl(basis == VerdictBasis::chance ? 0.92 : 1.6),
                           basis, false)
              .verdict;
        };
        CHECK(verdict(most) == Verdict::safe);
        const double cap = row.key.ends_with("sanding_error")  ? 0.05
                           : row.key.ends_with("radius_error") ? 3
                                                               : kLargestAsked;
        if (std::abs(most) < cap - 0.0021)
          CHECK(verdict(most + std::copysign(0.002, most)) != Verdict::safe);
      }
    }
  CHECK(tried.size() == 28);
}

TEST_CASE("a piece that is not safe: the largest value of a key that would make it so") {
  JobText text;
  text.set("", "limit", "0.7").set("", "trials", "2000");
  text.set("side_b", "zero", "\"top\"");
  text.set("board", "variation", "0.3").set("board", "measured", "29.95");
  text.set("flip", "located_by", "\"dowels\"");
  text.set("flip.dowels", "spacing", "100").set("flip.dowels", "clearance", "0.1");
  const std::vector<WallSample> samples = bowl(1.0);
  const Budget b = budget_of(text, samples);
  REQUIRE(b.verdict == Verdict::at_risk);
  int seen = 0;
  for (const CauseRow& row : b.causes) {
    CAPTURE(cause_text(row.id));
    if (row.key == "board.variation") {
      REQUIRE(row.largest_allowed_mm);
      CHECK(budget_of(with(text, row, *row.largest_allowed_mm), samples).verdict == Verdict::safe);
      CHECK(budget_of(with(text, row, *row.largest_allowed_mm + 0.002), samples).verdict ==
            Verdict::at_risk);
      ++seen;
    } else if (row.key == "flip.dowels.clearance" || row.key == "side_a.touch_off") {
      CHECK_FALSE(row.largest_allowed_mm); // not by this alone
      ++seen;
    }
  }
  CHECK(seen == 3 + 1 + 2 - 1);
  // What two keys differ by has no key of its own; the row's number is that difference.
  text.set("board", "variation", "0.01");
  for (const CauseRow& row : budget_of(text, samples).causes)
    if (row.id.kind == CauseKind::board_against_program) {
      CHECK(row.key.empty());
      REQUIRE(row.largest_allowed_mm);
      CHECK(*row.largest_allowed_mm < -0.1);
      JobText inside = text, outside = text;
      inside.set("board", "measured", fmt::format("{:.3f}", 30 + *row.largest_allowed_mm));
      outside.set("board", "measured", fmt::format("{:.3f}", 29.998 + *row.largest_allowed_mm));
      CHECK(budget_of(inside, samples).verdict == Verdict::safe);
      CHECK(budget_of(outside, samples).verdict != Verdict::safe);
    }
}
