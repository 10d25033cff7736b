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

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
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
  for (const char* row : {"as designed, or deeper", "expected, or deeper", "worst case, or deeper"})
    CHECK(contains(text, row));
}

TEST_CASE("no line is wider than asked, whatever the report holds") {
  for (const int width : {40, 60, 80, 120})
    for (const bool inch : {false, true})
      for (const CheckReport& r : {sample::full_report(), sample::bare_report(), awkward_report()})
        for (const std::string& line : lines_of(text_report(r, {false, width, inch}))) {
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
  std::string text = text_report(r, {false, 200, true});
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

TEST_CASE("ten thin places are listed and the others counted") {
  CheckReport r = sample::full_report();
  r.wall.regions.resize(13, r.wall.regions[1]);
  const std::string text = text_report(r, {});
  CHECK(contains(text, "\n  10 "));
  CHECK_FALSE(contains(text, "\n  11 "));
  CHECK(contains(text, "and 3 more"));
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
  CHECK(contains(text_report(r, {}), "cut through somewhere: not once (at most 1 in 5000)"));
}
