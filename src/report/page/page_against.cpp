#include "report/page/page_against.h"

#include "report/words/comparison_text.h"
#include "report/words/html_text.h"

#include <fmt/format.h>

namespace leastwall {
namespace {

using Row = std::array<std::string, 3>;

std::string table(const Row& heads, const std::vector<Row>& rows) {
  std::string out = "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"" +
                    html_text(heads[0]) + "\"><table class=\"pairs\"><thead><tr>";
  for (const std::string& head : heads)
    out += fmt::format("<th scope=\"col\">{}</th>", html_text(head));
  out += "</tr></thead><tbody>";
  for (const Row& row : rows)
    out += fmt::format("<tr><th scope=\"row\">{}</th><td>{}</td><td>{}</td></tr>",
                       html_text(row[0]), html_text(row[1]), html_text(row[2]));
  return out + "</tbody></table></div>";
}

} // namespace

std::string page_against(const Comparison* against, bool inch) {
  if (!against)
    return {};
  const LengthText words{inch};
  std::string out =
      fmt::format("<section id=\"against\" class=\"stated\" aria-labelledby=\"against-title\"><h2 "
                  "id=\"against-title\">Before and now, against {}</h2>",
                  html_text(against->file));
  out += table({"Both checks", "before", "now"}, comparison_rows(*against, words));
  out += "<details><summary>What differs</summary>";
  for (const ComparisonBlock& block : comparison_blocks(*against)) {
    out += fmt::format("<p>{}</p>", html_text(block.heading));
    if (block.lines.empty())
      continue;
    out += "<ul>";
    for (const std::string& line : block.lines)
      out += fmt::format("<li>{}</li>", html_text(words.sentence(line)));
    out += "</ul>";
  }
  if (!against->walls.empty()) {
    std::vector<Row> rows;
    const auto told = [&](const std::string& verdict, const std::optional<double>& mm,
                          const std::optional<double>& too_thin) {
      return fmt::format("{}, {}, {}", compared_verdict(verdict),
                         mm ? words.length(*mm) : std::string(kNotTold), compared_odds(too_thin));
    };
    for (const ComparedWall& w : against->walls)
      rows.push_back({w.name, told(w.verdict_before, w.expected_mm.before, w.too_thin.before),
                      told(w.verdict_after, w.expected_mm.after, w.too_thin.after)});
    out += table({"Wall", "before: verdict, expected, too thin", "now"}, rows);
  }
  if (const std::string more = walls_of_one_text(*against); !more.empty())
    out += fmt::format("<p>{}</p>", html_text(more));
  return out + "</details></section>\n";
}

} // namespace leastwall
