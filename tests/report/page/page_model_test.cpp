// Writes what the page's model is tested with (tests/page/page_model_test.js): facts and numbers of
// small made-up pieces as a page carries them, and beside them what the program itself finds for
// sizes as stated and others.
#include "bed/bed_map.h"
#include "budget/effects/spread.h"
#include "budget/trials/piece_trials.h"
#include "causes/unstated_causes.h"
#include "report/draw/colour_map.h"
#include "report/page/page_payload.h"
#include "report/sample_walls.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"
#include "report/words/verdict_text.h"
#include "wall/regions/thin_regions.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <filesystem>
#include <fstream>
#include <memory>
#include <set>

using namespace leastwall;

namespace {

constexpr std::size_t kTrials = 2000;
constexpr double kLimit_mm = 0.6;

/// A dome of sloping walls, thinner along a curved valley.
WallMap dome(double low_mm) {
  sample::Plate plate;
  plate.nx = 40;
  plate.ny = 30;
  plate.y1 = 90;
  plate.z = [](double x, double y) {
    return -30 + 0.004 * ((x - 50) * (x - 50) + (y - 45) * (y - 45));
  };
  plate.wall = [=](double x, double y) {
    return low_mm + 0.02 * std::abs(x - 40 - 8 * std::sin(y / 11)) + 0.013 * std::cos(y / 7);
  };
  WallMap map = sample::wall_map(plate);
  for (WallSample& s : map.samples) {
    const Vec3 up{-0.008 * (s.at.x - 50), -0.008 * (s.at.y - 45), 1};
    s.n = up * (-1 / length(up));
  }
  return map;
}

std::shared_ptr<const BedMap> map_of(double scale) {
  std::vector<std::optional<double>> heights;
  for (int j = 0; j < 4; ++j)
    for (int i = 0; i < 5; ++i)
      heights.emplace_back(scale * std::sin(1.3 * i + 0.7 * j * j));
  return std::make_shared<BedMap>(
      BedMap::grid({-150, -75, 0, 75, 150}, {-120, -40, 40, 120}, heights));
}

/// Numbers for all, nothing read.
Setup stated_by_numbers() {
  Setup s;
  s.board.footprint = Footprint{{-10, -10}, {110, 100}};
  s.board.assumed_thickness_mm = 40;
  s.board.thickness_error = {0.06, Knowledge::limits};
  s.board.variation_mm = 0.03;
  s.board.variation_length_mm = 40;
  s.board.swelling_per_percent = 0.002;
  s.board.moisture_change_percent = 0.4;
  s.board.resin_cup_mm = 0.03;
  s.inner.touch_off = {0.03, Knowledge::limits};
  s.inner.plate_error_mm = 0.02;
  s.inner.bit.zero = BitZero::tool_setter;
  s.inner.bit.setter = {0.01, Knowledge::standard};
  s.inner.bit.ball_radius_mm = 1.5;
  s.inner.bit.radius = {0.01, Knowledge::limits};
  s.inner.bit.runout_mm = 0.015;
  s.inner.roughing = Roughing{0.01, {}};
  s.outer.touch_off = {0.02, Knowledge::standard};
  s.outer.bit.tip_height = {0.02, Knowledge::limits};
  s.outer.sanding_mm = 0.03;
  s.outer.sanding = {0.02, Knowledge::standard};
  s.outer.sanding_length_mm = 30;
  s.outer.roughing = Roughing{0.04, Uncertain{0.03, Knowledge::limits}};
  s.bed.flatness_mm = 0.05;
  s.flip.at_mm = 50;
  s.flip.dowels = Dowels{0.04, 0.03, 90, std::nullopt, true};
  s.flip.line_error = {0.02, Knowledge::limits};
  s.flip.out_of_square_mm_per_m = 0.2;
  return s;
}

/// Bed and board read, side B from the bed, the programs of two minds about the board.
Setup stated_by_readings() {
  Setup s = stated_by_numbers();
  s.bed.flatness_mm.reset();
  s.bed.readings = map_of(0.03);
  s.bed.part_origin_stated = true;
  s.bed.reading_error = {0.01, Knowledge::limits};
  s.bed.seating = Seating::rigid;
  s.board.variation_mm = 0;
  s.board.variation_length_mm.reset();
  s.board.measured_thickness_mm = 40.05;
  s.outer.zero = ZeroFrom::bed;
  s.outer.touch_point = Point2{-5, -5};
  s.inner.touch_point = Point2{105, 95};
  s.inner.assumed_thickness_mm = 40.02;
  return s;
}

/// The same with one mind about the board, which is another than the program's.
Setup of_one_program() {
  Setup s = stated_by_readings();
  s.inner.assumed_thickness_mm.reset();
  s.bed.seating = Seating::unknown;
  return s;
}

/// The board from place to place, both sides from its face.
Setup board_read() {
  Setup s = stated_by_numbers();
  s.board.variation_mm = 0;
  s.board.variation_length_mm.reset();
  s.board.thickness_readings = std::make_shared<BedMap>(
      BedMap::grid({-150, 0, 150}, {-120, 0, 120},
                   std::vector<std::optional<double>>{40.01, 39.98, 40.02, 40.0, 40.03, 39.99,
                                                      40.02, 40.01, 40.0}));
  s.inner.touch_point = Point2{10, 80};
  s.outer.touch_point = Point2{90, 10};
  return s;
}

struct Sizes {
  const char* name;
  double stated, unstated; ///< so many times the stated size, so much of what can be tried
};

Json numbers(std::span<const double> values) {
  return Json(std::vector<double>(values.begin(), values.end()));
}

/// What the program finds with these causes.
Json found(std::span<const Cause> causes, const WallMap& map) {
  Json out = {{"sizes", Json::array()}, {"effects", Json::array()}};
  std::vector<double> expected, worst;
  std::vector<Effect> effects(causes.size());
  for (const Cause& c : causes)
    out["sizes"].push_back(c.size);
  for (std::size_t i = 0; i < map.samples.size(); ++i) {
    effects_at(causes, map.samples[i], effects);
    const Effect sum = sum_of(effects);
    expected.push_back(map.samples[i].wall_mm + sum.shift);
    worst.push_back(expected.back() - sum.half_width);
    if (i % 131 != 5)
      continue;
    Json row = {{"sample", i}, {"of", Json::array()}};
    for (const Effect& e : effects)
      row["of"].push_back(numbers(std::array{e.shift, e.half_width, e.u}));
    out["effects"].push_back(row);
  }
  out["area_expected"] = area_under(map, expected, kLimit_mm - kLimitTolerance_mm);
  out["area_worst"] = area_under(map, worst, kLimit_mm - kLimitTolerance_mm);
  out["expected"] = expected;
  out["worst"] = worst;
  const PieceTrials trials(causes, map.samples, {.trials = kTrials, .seed = 1, .freed_shift = {}},
                           {});
  const std::vector<double> least = trials.least_walls(std::nullopt, {});
  Json counts = Json::array();
  for (const double limit : {0.2, 0.35, 0.45, 0.55, 0.65})
    counts.push_back({{"limit", limit},
                      {"under", std::ranges::count_if(least, [&](double w) { return w < limit; })},
                      {"through", std::ranges::count_if(least, [](double w) { return w <= 0; })}});
  out["counts"] = counts;
  return out;
}

/// Facts, numbers and findings of one set-up; the kinds of its causes are added to `kinds`.
Json fixture(const Setup& setup, double low_mm, std::set<CauseKind>& kinds) {
  const WallMap map = dome(low_mm);
  BudgetOptions options;
  options.limit_mm = kLimit_mm;
  options.trials = kTrials;
  options.with_allowed = options.with_advice = false;
  const Budget budget = compute_budget(setup, map.samples, options, {});
  CheckReport report = sample::full_report();
  report.wall.limit_mm = kLimit_mm;
  report.wall.verdict = budget.verdict;
  report.wall.causes = budget.causes;
  const PageInput input{report, map, budget, options, setup};
  const Payload payload = payload_of(input, 4'000'000, nullptr, {});
  Json out = {{"facts", Json::parse(payload.facts)}, {"numbers", payload.numbers}};

  // The page's causes: those of the budget, then what can be tried from nothing.
  std::vector<Cause> causes = budget.cause_model;
  std::vector<Cause> more = unstated_causes(setup, causes);
  causes.insert(causes.end(), more.begin(), more.end());
  REQUIRE(out["facts"]["causes"].size() == causes.size());
  for (const Cause& c : causes)
    kinds.insert(c.id.kind);
  for (const Sizes& s : {Sizes{"as stated", 1, 0}, Sizes{"most half as large again", 1.5, 0},
                         Sizes{"less, and what no one stated", 0.4, 0.3}}) {
    std::vector<Cause> with = causes;
    for (std::size_t k = 0; k < with.size(); ++k)
      if (k < budget.cause_model.size())
        with[k].size *= s.stated == 1 || k % 3 != 0 ? s.stated : 1;
      else
        with[k].size *= s.unstated;
    Json row = found(with, map);
    row["name"] = s.name;
    out["found"].push_back(row);
  }
  return out;
}

/// Numbers in words as the program writes them.
Json words() {
  Json out;
  for (const double w : {0.59996, 0.6, 0.5999999, 0.6004, 1.23456, -0.0001, 0.0}) {
    out["walls"].push_back({w, kLimit_mm, wall_text(w, kLimit_mm), wall_text_inch(w, kLimit_mm)});
  }
  for (const double f : {1.0, 0.9999, 0.63, 0.5, 0.4999, 0.1, 0.11, 0.0123, 0.0004})
    out["odds"].push_back({f, odds_text(f), pieces_text(f, 20000)});
  for (const double w : {-0.1, 0.0, 0.3, 0.9999, 1.0, 1.5, 2.99, 3.0, 7.0})
    out["scale"].push_back({w, scale_place(w)});
  out["odds_of_none"] = pieces_text(0, 20000);
  for (const double a : {0.0, 0.01, 0.05, 1.24, 123.456})
    out["areas"].push_back({a, area_text(a)});
  CheckReport report = sample::full_report();
  for (const Verdict v :
       {Verdict::safe, Verdict::at_risk, Verdict::thin, Verdict::cut_through, Verdict::unproven})
    for (const double expected : {0.71234, -0.21})
      for (const double worst : {0.412, -0.35}) {
        if (worst > expected ||
            (v == Verdict::cut_through) != (expected < 0 && v != Verdict::unproven))
          continue;
        report.wall.verdict = v;
        report.wall.least_wall.expected_mm = expected;
        report.wall.least_wall.worst_mm = worst;
        report.wall.least_wall.may_be_deeper = v == Verdict::cut_through;
        out["sentences"].push_back({{"verdict", verdict_word(v)},
                                    {"expected", expected},
                                    {"worst", worst},
                                    {"limit", report.wall.limit_mm},
                                    {"at", numbers(std::array{12.34, -4.01, -18.25})},
                                    {"text", verdict_sentence(report, false)}});
      }
  return out;
}

} // namespace

TEST_CASE("fixtures of the page's model hold every kind of cause") {
  namespace fs = std::filesystem;
  const fs::path folder = fs::path(LEASTWALL_BUILD_DIR) / "page_model";
  fs::create_directories(folder);
  std::set<CauseKind> kinds;
  struct Piece {
    const char* name;
    Setup setup;
    double low_mm; ///< wall in its valley
  };
  const Piece pieces[] = {{"numbers", stated_by_numbers(), 0.62},
                          {"numbers-cut-through", stated_by_numbers(), 0.17},
                          {"readings", stated_by_readings(), 0.62},
                          {"one-program", of_one_program(), 0.5},
                          {"board", board_read(), 0.62}};
  for (const Piece& piece : pieces) {
    Json all = fixture(piece.setup, piece.low_mm, kinds);
    all["words"] = words();
    std::ofstream(folder / (std::string(piece.name) + ".json")) << all.dump();
  }
  for (int kind = 0; kind <= static_cast<int>(CauseKind::glue_up_play); ++kind) {
    CAPTURE(kind);
    const auto k = static_cast<CauseKind>(kind);
    // Of a pad alone; of two halves glued, which acts as the play of a dowel does.
    if (k == CauseKind::pad_reading || k == CauseKind::glue_up_play)
      continue;
    CHECK(kinds.contains(k));
  }
}
