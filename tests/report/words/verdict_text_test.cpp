// The large words of a verdict and what they rest on.
#include "report/words/verdict_text.h"

#include "report/sample_walls.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

/// Safe by chance: one piece in 40 fails, one in 20 is accepted.
CheckReport safe_report() {
  CheckReport r;
  r.wall.verdict = Verdict::safe;
  r.wall.limit_mm = 0.8;
  r.wall.least_wall.expected_mm = 0.9;
  r.wall.least_wall.worst_mm = 0.7;
  r.wall.chance = ChanceRow{};
  r.wall.chance->trials = 20000;
  r.wall.chance->under_limit = 1.0 / 40;
  return r;
}

} // namespace

TEST_CASE("a piece that holds by chance says how often it does not") {
  CheckReport r = safe_report();
  CHECK(headline_line(r) == "HOLDS: 1 in 40 pieces too thin, you accept 1 in 20");
  CHECK(verdict_sentence(r, false).starts_with("Every wall holds if all goes as expected: least"));
  r.wall.chance->under_limit = 0;
  CHECK(headline_line(r) == "HOLDS: not one in 20000 pieces too thin, you accept 1 in 20");
}

TEST_CASE("EVERY WALL HOLDS is said only where the worst case holds as well") {
  CheckReport r = safe_report();
  r.wall.chance->under_limit = 0;
  r.wall.least_wall.worst_mm = 0.8; // exactly the limit holds
  CHECK(headline_line(r) == "EVERY WALL HOLDS: even with every stated error at its worst");
  r.wall.least_wall.worst_mm = 0.8 - 2 * kLimitTolerance_mm;
  CHECK(verdict_headline(r).banner == "HOLDS");
  r.wall.least_wall.worst_mm = 0.81; // limits of normal errors are not the end: some trials fail
  r.wall.chance->under_limit = 0.001;
  CHECK(headline_line(r) == "HOLDS: 1 in 1000 pieces too thin, you accept 1 in 20");
  r.basis.by_chance = false;
  CHECK(headline_line(r) == "EVERY WALL HOLDS: even with every stated error at its worst");
}

TEST_CASE("without a stated error a wall holds as drawn, whatever the basis") {
  CheckReport r = safe_report();
  r.basis.errors_stated = false;
  r.wall.chance->under_limit = 0;
  r.wall.least_wall.worst_mm = r.wall.least_wall.expected_mm;
  for (const bool by_chance : {true, false}) {
    r.basis.by_chance = by_chance;
    CHECK(headline_line(r) == "HOLDS AS DRAWN: no machine error was stated");
    CHECK(verdict_sentence(r, false).starts_with("Every wall holds as drawn: least 0.900 mm at"));
  }
}

TEST_CASE("at risk says by how much; what is too thin or cut through needs no ground") {
  CheckReport r = safe_report();
  r.wall.verdict = Verdict::at_risk;
  r.wall.chance->under_limit = 0.17245;
  CHECK(headline_line(r) == "AT RISK: 1 in 5.8 pieces too thin, you accept 1 in 20");
  r.wall.chance->under_limit = 1;
  CHECK(headline_line(r) == "AT RISK: every piece too thin, you accept 1 in 20");
  r.basis.by_chance = false;
  CHECK(headline_line(r) == "AT RISK: too thin with every error at its worst");
  r.wall.verdict = Verdict::thin;
  CHECK(headline_line(r) == "TOO THIN");
  r.wall.verdict = Verdict::cut_through;
  CHECK(headline_line(r) == "CUT THROUGH");
}

TEST_CASE("every headline fits into 80 columns with the longest numbers") {
  for (const HeadlineWords& words : headline_text()) {
    std::string ground(words.ground);
    for (const auto& [name, longest] :
         {std::pair{"{pieces}", pieces_text(0, 10'000'000)}, {"{accepted}", "1 in 1000000"}})
      if (const std::size_t at = ground.find(name); at != std::string::npos)
        ground.replace(at, std::string_view(name).size(), longest);
    CHECK(words.banner.size() + 2 + ground.size() <= 80);
  }
}
