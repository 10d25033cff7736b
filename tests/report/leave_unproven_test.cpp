// A piece whose meshes leave its walls unproven: no writer shows it as anything else.
#include "report/leave_unproven.h"

#include "report/json/json_report.h"
#include "report/sample_walls.h"
#include "report/text/text_report.h"
#include "report/words/verdict_text.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace leastwall;

namespace {

CheckReport unproven_report() {
  CheckReport r = sample::full_report();
  r.wall.verdict = Verdict::safe;
  r.warnings = {
      {"plain", "A plain warning."},
      {"board", "Look at the board. It is short.", Severity::doubt},
      {"hole", "The skin has a hole of 12.0 mm round x 3.0 y 4.0. Close it.", Severity::unproven}};
  if (leaves_unproven(r.warnings))
    leave_unproven(r);
  return r;
}

} // namespace

TEST_CASE("unproven: nothing that was computed promises a verdict any more; numbers stay") {
  const CheckReport r = unproven_report();
  CHECK(r.wall.verdict == Verdict::unproven);
  CHECK(r.advice.empty());
  CHECK_FALSE(r.resurface.has_value());
  CHECK_FALSE(r.pad.has_value());
  for (const CauseRow& cause : r.wall.causes)
    CHECK_FALSE(cause.largest_allowed_mm.has_value());
  CHECK(r.wall.least_wall.design_mm == sample::full_report().wall.least_wall.design_mm);
  CHECK(r.wall.chance.has_value() == sample::full_report().wall.chance.has_value());
}

TEST_CASE("unproven: the text says LOOK FIRST and what to look at before any number") {
  const std::string text = text_report(unproven_report(), {});
  CHECK(text.starts_with(
      "LOOK FIRST\n  - The skin has a hole of 12.0 mm round x 3.0 y 4.0. Close it.\n"
      "  - Look at the board. It is short.\nNo wall is proven."));
  CHECK(text.find("EVERY WALL HOLDS") == std::string::npos);
  CHECK(text.find("least 0.652 mm") != std::string::npos);
}

TEST_CASE("unproven: JSON has the word and how severe each warning is") {
  const auto json = nlohmann::json::parse(json_report(unproven_report()));
  CHECK(json["verdict"] == "unproven");
  CHECK(json["warnings"][0]["severity"] == "warning");
  CHECK(json["warnings"][1]["severity"] == "doubt");
  CHECK(json["warnings"][2]["severity"] == "unproven");
  CHECK(json["advice"].empty());
}

TEST_CASE("a doubt alone stands under the verdict and leaves it") {
  CheckReport r = sample::full_report();
  r.warnings = {{"board", "Look at the board.", Severity::doubt}};
  CHECK_FALSE(leaves_unproven(r.warnings));
  CHECK(text_report(r, {}).find("LOOK FIRST: Look at the board.") != std::string::npos);
}

TEST_CASE("the first sentence of a notice, full stops within numbers left alone") {
  CHECK(first_sentence("A hole of 12.0 mm at z -3.5. Close it.") == "A hole of 12.0 mm at z -3.5");
  CHECK(first_sentence("Only one.") == "Only one");
  CHECK(first_sentence("none") == "none");
}
