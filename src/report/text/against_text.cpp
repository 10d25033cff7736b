#include "report/text/against_text.h"

#include "base/text/shorten_middle.h"
#include "base/text/wrap_text.h"
#include "report/text/paragraphs.h"
#include "report/text/text_table.h"
#include "report/words/comparison_text.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

class Writer : Paragraphs {
 public:
  Writer(const Comparison& against, const TextOptions& options)
      : Paragraphs(LengthText{options.show_inch}, std::max(40, options.width)), a_(against) {}

  std::string text() {
    para(fmt::format("Against {}:", a_.file));
    TextTable table{{"", "before", "now"}, {true, false, false}, {}};
    for (const auto& [what, before, now] : comparison_rows(a_, words_))
      table.rows.push_back({what, before, now});
    out_ += text_table(table, width_);
    for (const ComparisonBlock& block : comparison_blocks(a_)) {
      para(block.heading);
      for (const std::string& line : block.lines)
        para(line, "  - ");
    }
    walls();
    return take();
  }

 private:
  void walls() {
    if (!a_.walls.empty()) {
      TextTable table{{"Wall", "before", "now", "expected", "now", "too thin", "now"},
                      {true, true, true, false, false, false, false},
                      {}};
      for (const ComparedWall& w : a_.walls)
        table.rows.push_back({shorten_middle(printable(w.name), std::max(8, width_ - 58)),
                              compared_verdict(w.verdict_before), compared_verdict(w.verdict_after),
                              number(w.expected_mm.before), number(w.expected_mm.after),
                              compared_odds(w.too_thin.before), compared_odds(w.too_thin.after)});
      out_ += text_table(table, width_);
    }
    if (const std::string more = walls_of_one_text(a_); !more.empty())
      para(more);
  }

  std::string number(const std::optional<double>& mm) const {
    return mm ? words_.number(*mm) : kNotTold;
  }

  const Comparison& a_;
};

} // namespace

std::string against_text(const Comparison& against, const TextOptions& options) {
  return Writer(against, options).text();
}

} // namespace leastwall
