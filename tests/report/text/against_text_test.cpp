#include "report/text/against_text.h"

#include "base/text/wrap_text.h"
#include "report/sample_walls.h"
#include "report/text/text_report.h"

#include <doctest/doctest.h>
#include <sstream>

using namespace leastwall;

namespace {

Comparison comparison() {
  Comparison c;
  c.file = "was.json";
  c.whole = {"", "at-risk", "cut-through", {0.672, 0.797}, {0.13, -0.255}, {0.17, std::nullopt}};
  c.setup = {{"touch-off, side A", "+-0.050 mm", "+-0.030 mm"}, {"bed", "", "from readings"}};
  c.stated_now = {"board.measured"};
  return c;
}

} // namespace

TEST_CASE("before and now stand beside one another, what differs below") {
  const std::string text = against_text(comparison(), {});
  CHECK(text == "Against was.json:\n"
                "                            before          now\n"
                "  verdict                  at risk  cut through\n"
                "  least wall, expected    0.672 mm     0.797 mm\n"
                "  at worst                0.130 mm    -0.255 mm\n"
                "  a wall under the limit  1 in 5.9     not told\n"
                "Set-up, before and now:\n"
                "  - touch-off, side A: +-0.050 mm; now +-0.030 mm\n"
                "  - bed: not told; now from readings\n"
                "  - now stated, or not asked for: board.measured\n"
                "Not compared, for reports do not hold it: where Z is zeroed and touched, board,\n"
                "flip, dowels, readings.\n"
                "Meshes: the same, as far as both reports tell it.\n");
  const std::string inch = against_text(comparison(), {false, 120, true});
  CHECK(inch.find("0.0265 in (0.672 mm)") != inch.npos); // 0.672 / 25.4
  CHECK(inch.find("+-0.0020 in (+-0.050 mm)") != inch.npos);
}

TEST_CASE("no line is wider than asked, and it stands between the changes and the walls") {
  Comparison c = comparison();
  c.file = std::string(200, 'f');
  for (int i = 0; i < 3; ++i)
    c.walls.push_back(
        {std::string(90, 'w') + std::to_string(i), "at-risk", "safe", {1, 2}, {}, {}});
  for (const int width : {40, 80}) {
    std::istringstream lines(against_text(c, {false, width, true}));
    for (std::string line; std::getline(lines, line);)
      CHECK(text_columns(line) <= width);
  }
  c.file = "was.json";
  TextOptions options;
  options.against = &c;
  const std::string text = text_report(sample::full_report(), options);
  CHECK(text.find("What would help") < text.find("Against "));
  CHECK(text.find("Against ") < text.find("Pocket  "));
  CHECK(text_report(sample::full_report(), {}).find("Against") == std::string::npos);
}
