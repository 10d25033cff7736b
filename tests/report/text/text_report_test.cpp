#include "report/text/text_report.h"

#include "base/text/wrap_text.h"
#include "report/sample_walls.h"
#include "report/words/verdict_text.h"

#include <doctest/doctest.h>
#include <regex>
#include <set>
#include <sstream>

using namespace leastwall;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);)
    out.push_back(line);
  return out;
}

const TextOptions kAll{false, 80, false, true};

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// A blank in place of each line's end and what the next one is indented by.
std::string in_one_line(const std::string& text) {
  return std::regex_replace(text, std::regex("\n *"), " ");
}

/// Names, numbers and sentences that do not fit anywhere.
CheckReport awkward_report() {
  CheckReport r = sample::full_report();
  r.pocket.file = std::string(300, 'p') + ".stl";
  for (int i = 0; i < 60; ++i)
    r.skin.file += "\xe8\x91\x89";
  r.basis.text = std::string(200, 'b');
  r.wall.least_wall.at = {-123456.78, 1e9, -1e12};
  r.wall.limit_mm = 123456.789;
  for (int i = 0; i < 40; ++i)
    r.wall.regions.push_back({1e8 + i,
                              -1e9,
                              1e11,
                              1e10,
                              {-1e7, 1e8, -1e9},
                              CauseId{CauseKind::dowel_play, Side::a, 4000000000, true}});
  r.wall.causes.push_back({.id = {CauseKind::tool_setter, Side::a, 1, true},
                           .size = 1e9,
                           .unit = std::string(120, 'u'),
                           .allowance_mm = 1e9,
                           .at_thinnest_mm = -1e6,
                           .share = 1,
                           .largest_allowed_mm = 1e7});
  r.advice.push_back({std::string(170, 'a'), -1e5, Verdict::thin, std::string(90, 'w')});
  r.warnings.push_back({"very-" + std::string(100, 'l'), "line one\nline two\033[2J"});
  r.assumptions.push_back({std::string(500, 'x')});
  return r;
}

} // namespace

TEST_CASE("the verdict comes first, in plain words with the numbers") {
  const auto lines = lines_of(text_report(sample::full_report(), {}));
  CHECK(lines.at(0) == "TOO THIN");
  CHECK(lines.at(1).starts_with("Some walls are too thin: least 0.652 mm at x 12.3 y -4.0 z -18."));
}

TEST_CASE("the verdicts read differently without colour") {
  std::set<std::string> banners, sentences;
  CheckReport r = sample::full_report();
  for (const Verdict v :
       {Verdict::safe, Verdict::at_risk, Verdict::thin, Verdict::cut_through, Verdict::unproven}) {
    r.wall.verdict = v;
    banners.insert(verdict_headline(r).banner);
    sentences.insert(verdict_sentence(r, false));
    CHECK(text_report(r, {}).find('\033') == std::string::npos);
    CHECK(contains(text_report(r, {true, 80, false}), "\033[0m\n"));
  }
  CHECK(banners.size() == 5);
  CHECK(sentences.size() == 5);
}

TEST_CASE("a cut-through says how deep") {
  CheckReport r = sample::bare_report();
  r.wall.verdict = Verdict::cut_through;
  r.wall.least_wall.expected_mm = -0.231;
  CHECK(contains(text_report(r, {}), "The two cuts meet: 0.231 mm too deep"));
  CHECK_FALSE(contains(text_report(r, {}), "or deeper"));
  // Looking for the deepest point was cut short.
  r.wall.least_wall.may_be_deeper = true;
  const std::string text = text_report(r, {});
  CHECK(contains(text, "The two cuts meet: at least 0.231 mm too deep"));
  CHECK(contains(text, "\n  mm, or deeper "));
  TextOptions all;
  all.all = true;
  for (const char* row : {"as designed, or deeper", "expected, or deeper", "worst case, or deeper"})
    CHECK(contains(text_report(r, all), row));
}

TEST_CASE("no line is wider than asked, whatever the report holds") {
  for (const int width : {40, 60, 80, 120})
    for (const bool inch : {false, true})
      for (const CheckReport& r : {sample::full_report(), sample::bare_report(), awkward_report()})
        for (const bool all : {false, true})
          for (const std::string& line : lines_of(text_report(r, {false, width, inch, all}))) {
            INFO(line);
            CHECK(text_columns(line) <= width);
            CHECK((line.empty() || line.back() != ' '));
          }
}

TEST_CASE("millimetres have three decimals at most, inches four beside them") {
  CheckReport r = sample::full_report();
  r.wall.least_wall.worst_mm = 0.123456789;
  r.wall.regions[0].at.x = 1.0 / 3;
  const std::string mm = text_report(r, {});
  CHECK_FALSE(std::regex_search(mm, std::regex("[0-9]\\.[0-9]{4}")));
  CHECK_FALSE(contains(mm, "in)"));
  const std::string inch = text_report(r, {false, 80, true});
  CHECK_FALSE(std::regex_search(inch, std::regex("[0-9]\\.[0-9]{5}")));
  CHECK(contains(inch, "0.0257 in (0.652 mm)")); // 0.652 / 25.4
}

TEST_CASE("in inches every length has its inches before its millimetres") {
  CheckReport r = sample::full_report();
  PadRow& pad = r.pad.emplace();
  pad.design_mm = 0.84;
  pad.size_mm = 15;
  pad.x_mm = -50.8;
  pad.y_mm = 25.4;
  pad.low_mm = 0.5;
  pad.reading_mm = 0.9;
  pad.shift_mm = -0.0635;
  r.wall.regions[0].worst_mm = -0.2;
  r.wall.causes[0].largest_allowed_mm = 0.0254;
  std::string text = text_report(r, {false, 200, true, true});
  CHECK(contains(text, "its middle at x -2.000 y 1.000 in (x -50.8 y 25.4 mm)"));
  CHECK(contains(text, "a Z shift of -0.0025 in (-0.064 mm)"));
  CHECK(contains(text, "(+0.0118 in (+0.300 mm), then safe; costs nothing)"));
  CHECK(contains(text, "0.1914 in2 (123.5 mm2) as expected")); // 123.456 / 645.16
  CHECK(contains(text, "Thicken the model by 0.0079 in (0.200 mm)"));
  // Millimetres stand in brackets, behind inches or under a line of them, or in a column of theirs.
  text = std::regex_replace(text, std::regex("\\([^()]*\\)"), "");
  std::smatch bare;
  CHECK_FALSE(std::regex_search(text, bare, std::regex("[^\n]*[0-9] mm[^\n]*")));
  INFO(bare.str());
}

TEST_CASE("the best two changes stand before any table, the others with all") {
  CheckReport r = sample::full_report();
  r.advice.push_back({"Touch off better", 0.1, Verdict::thin, "work"});
  const std::string text = text_report(r, {}), all = text_report(r, kAll);
  CHECK(contains(text, "What would help, each by itself, best first (2 of 3):\n  1. Zero side B"));
  CHECK_FALSE(contains(text, "Touch off better"));
  CHECK(contains(text, "More with `leastwall check --all`: 1 more change, "));
  CHECK(contains(all, "  3. Touch off better"));
  CHECK_FALSE(contains(all, "--all"));
  for (const std::string& t : {text, all})
    CHECK(t.find("1. Zero side B") < t.find("Least wall"));
}

TEST_CASE("why, in one line: what takes most there, or the model itself") {
  CheckReport r = sample::full_report(); // 0.712 mm as designed, limit 0.8 mm
  CHECK(contains(text_report(r, {}), "\nThe model itself is under the limit there: 0.712 mm.\n"));
  r.wall.least_wall.design_mm = -0.01;
  CHECK(contains(text_report(r, {}),
                 "\nThe model itself is under the limit there: a hole as drawn."));
  r.wall.least_wall.design_mm = 0.9;
  r.wall.causes[1].id.side = Side::a;
  CHECK(contains(text_report(r, {}), "\nMost of it: bed flatness under side A, +-0.150 mm.\n"));
  // A shift that makes the wall thicker takes nothing.
  r.wall.causes.push_back({.id = {CauseKind::touch_plate, Side::a},
                           .distribution = Distribution::shift,
                           .size = 0.6,
                           .unit = "mm",
                           .at_thinnest_mm = 0.6});
  CHECK(contains(text_report(r, {}), "\nMost of it: bed flatness under side A"));
  r.wall.causes.back().at_thinnest_mm = -0.6;
  CHECK(contains(text_report(r, {}), "\nMost of it: touch plate"));
  r.wall.verdict = Verdict::safe;
  CHECK_FALSE(contains(text_report(r, {}), "Most of it"));
}

TEST_CASE("the size stands under the files, so that a wrong unit is seen") {
  const CheckReport r = sample::full_report();
  CHECK(contains(text_report(r, {}), "\nSize    120.0 x 180.0 x 40.0 mm\n"));
  // 120 / 25.4 = 4.724, 180 / 25.4 = 7.087, 40 / 25.4 = 1.575
  CHECK(contains(text_report(r, {false, 80, true}),
                 "\nSize    4.724 x 7.087 x 1.575 in (120.0 x 180.0 x 40.0 mm)\n"));
}

TEST_CASE("a short text keeps every warning and every number that no one stated") {
  CheckReport r = sample::full_report();
  r.warnings.push_back({"doubtful", "Look at the board.", Severity::doubt});
  r.assumptions = {{"0 mm is used", "side_a.sanding", "0 mm"},
                   {"1 is used", "seed", "1"},
                   {"no is used", "part.rim", "\"is a wall\""},
                   {"The pocket is a closed body.", {}, {}, true},
                   {"No pocket face was found."}};
  r.not_checked = {"the bit", "wood that is left: ribs, fins"};
  const std::string text = text_report(r, {}), all = text_report(r, kAll);
  for (const char* kept :
       {"LOOK FIRST: Look at the board.", "The skin is an open sheet", "0 for side_a.sanding",
        "No pocket face was found.", "Before the good board, cut"})
    for (const std::string& t : {in_one_line(text), all}) {
      INFO(std::string(kept));
      CHECK(contains(t, kept));
    }
  CHECK(contains(text, "Not checked: the bit; wood that is left."));
  CHECK(contains(all, "  - wood that is left: ribs, fins"));
  CHECK(contains(text, "Warnings (1):")); // the doubt stands under the verdict
  CHECK(contains(all, "Warnings (2):"));
  for (const char* left : {"seed", "closed body", "is a wall", "[open-mesh]", "straight down",
                           "19 times in 20 between"}) {
    INFO(left);
    CHECK_FALSE(contains(text, left));
    CHECK(contains(all, left));
  }
  CHECK(contains(in_one_line(text), "usual values."));
}

TEST_CASE("walls that are not safe are all listed, of the others five at most") {
  CheckReport r = sample::full_report();
  NamedWall wall{"half", "skin", "room", "wood", r.wall};
  for (int i = 0; i < 9; ++i) {
    wall.part = "half " + std::to_string(i);
    wall.wall.verdict = i < 7 ? Verdict::thin : Verdict::safe;
    r.walls.push_back(wall);
  }
  std::string text = text_report(r, {});
  for (int i = 0; i < 7; ++i)
    CHECK(contains(text, "half " + std::to_string(i) + ": room"));
  CHECK(contains(text, "  and 2 more, safe\n"));
  CHECK_FALSE(contains(text_report(r, kAll), "more, safe"));
  for (NamedWall& safe : r.walls)
    safe.wall.verdict = Verdict::safe;
  CHECK(contains(text_report(r, {}), "  and 4 more, safe\n"));
}

TEST_CASE("a chance that is certain, and one with equal ends, needs no interval") {
  CheckReport r = sample::full_report();
  r.wall.chance = ChanceRow{1, 0.9, 0.9998, 1, 0.8999, 0.9001, 20000};
  const std::string all = text_report(r, kAll);
  CHECK(contains(all, "a wall under the limit: every time\n"));
  CHECK(contains(all, "cut through somewhere: 90 in 100\n"));
}

TEST_CASE("what is absent is not mentioned") {
  const std::string text = text_report(sample::bare_report(), {});
  for (const char* word : {"straight down", "19 times", "Chance", "cause", "help", "Warnings",
                           "Taken as given", "Not checked", "Basis", "Pocket"}) {
    INFO(word);
    CHECK_FALSE(contains(text, word));
  }
  CHECK(contains(text, "No thin places"));
}

TEST_CASE("a chance that no trial met still has an upper end") {
  CheckReport r = sample::full_report();
  r.wall.chance->cut_through = r.wall.chance->cut_through_low = 0;
  r.wall.chance->cut_through_high = 0.0002;
  CHECK(
      contains(text_report(r, kAll), "\n  cut through somewhere: not once (at most 1 in 5000)\n"));
  CHECK(contains(in_one_line(text_report(r, {})),
                 "; cut through somewhere: not once (at most 1 in 5000)"));
}
