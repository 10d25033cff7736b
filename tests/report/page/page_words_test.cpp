#include "report/page/page_words.h"

#include "report/sample_walls.h"

#include <doctest/doctest.h>

using namespace leastwall;

// 25.4 mm an inch by definition; the places are those of LengthText.
TEST_CASE("sentences with lengths come to the page in inches too, the others once") {
  CheckReport report = sample::full_report();
  report.advice.clear();
  for (const char* change : {"Raise side B by 0.508 mm", "Square the machine"}) {
    AdviceRow advice;
    advice.change = change;
    report.advice.push_back(advice);
  }
  report.warnings = {{"mesh", "A gap of 1.27 mm is open. Close it.", Severity::doubt}};
  report.assumptions = {{"The board is 25.4 mm thick."}};
  report.not_checked = {"Whether 12.7 mm of the bit are sharp.", "The wood."};
  const Json inches = words_in_inches(report);
  CHECK(inches["Raise side B by 0.508 mm"] == "Raise side B by 0.0200 in (0.508 mm)");
  CHECK(inches["A gap of 1.27 mm is open. Close it."] ==
        "A gap of 0.0500 in (1.27 mm) is open. Close it.");
  CHECK(inches["A gap of 1.27 mm is open"] == "A gap of 0.0500 in (1.27 mm) is open");
  CHECK(inches["The board is 25.4 mm thick."] == "The board is 1.000 in (25.4 mm) thick.");
  CHECK(inches["Whether 12.7 mm of the bit are sharp."] ==
        "Whether 0.500 in (12.7 mm) of the bit are sharp.");
  CHECK(inches.size() == 5);
  CHECK(finding_in_inches(report).size() == 1);
}

TEST_CASE("the page has a word for every verdict, cost and distribution, and every sentence") {
  const Json words = page_words();
  CHECK(words["verdicts"]["at-risk"] == "at risk");
  CHECK(words["verdicts"].size() == 5);
  CHECK(words["costs"]["free"] == "costs nothing");
  CHECK(words["ways"].size() == 5);
  CHECK(words["sentences"].size() == 7);
  for (const auto& [key, text] : words["sentences"].items()) {
    CAPTURE(key);
    CHECK(text.get<std::string>().ends_with("."));
    CHECK(text.get<std::string>().find("{limit}") != std::string::npos);
  }
}
