// Before and after as HTML: what both tell, what only one tells, names that are no HTML.
#include "report/page/page_against.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

Comparison sample() {
  Comparison a;
  a.file = "first/<check>.json";
  a.whole = {"", "at-risk", "safe", {0.672, 0.672}, {0.130, 0.374}, {0.17, 1 / 42.0}};
  a.setup = {{"bed flatness, side A", "+-0.100 mm", "+-0.050 mm"},
             {"sanding, side B", "", "0.050 mm"}};
  a.stated_now = {"board.measured"};
  return a;
}

} // namespace

TEST_CASE("page: verdict, walls and chance stand before and now, and what differs below") {
  const Comparison a = sample();
  const std::string html = page_against(&a, false);
  for (const char* words :
       {"against first/&lt;check&gt;.json",
        "<th scope=\"row\">verdict</th><td>at risk</td><td>safe</td>",
        "<td>0.672 mm</td><td>0.672 mm</td>", "<td>0.130 mm</td><td>0.374 mm</td>",
        "<td>1 in 5.9</td><td>1 in 42</td>",
        "<li>bed flatness, side A: +-0.100 mm; now +-0.050 mm</li>",
        "<li>sanding, side B: not told; now 0.050 mm</li>",
        "<li>now stated, or not asked for: board.measured</li>",
        "Meshes: the same, as far as both reports tell it.", "Not compared"})
    CHECK_MESSAGE(has(html, words), std::string(words));
  CHECK(html.find("before") < html.find("now</th>"));
  CHECK(page_against(nullptr, false).empty());
}

TEST_CASE("page: what a check does not tell is said, and a job in inches has inches first") {
  Comparison a = sample();
  a.whole.worst_mm.before.reset();
  a.whole.too_thin.after.reset();
  a.walls = {{"left: skin to room", "thin", "safe", {0.4, 0.6}, {}, {{}, 0.01}}};
  a.walls_of_one = 2;
  const std::string html = page_against(&a, true);
  CHECK(has(html, "<td>not told</td><td>0.0147 in (0.374 mm)</td>")); // 0.374 / 25.4
  CHECK(has(html, "<td>1 in 5.9</td><td>not told</td>"));
  CHECK(has(html, "<td>too thin, 0.0157 in (0.400 mm), not told</td>")); // 0.4 / 25.4
  CHECK(has(html, "Walls that only one of the two has: 2."));
}
