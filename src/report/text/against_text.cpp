#include "report/text/against_text.h"

#include "base/text/wrap_text.h"
#include "report/text/paragraphs.h"
#include "report/text/text_table.h"
#include "report/words/number_text.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace leastwall {
namespace {

constexpr const char* kNotTold = "not told";

std::string verdict_words(const std::string& word) {
  std::string out = word == "thin" ? "too thin" : word.empty() ? kNotTold : word;
  std::replace(out.begin(), out.end(), '-', ' ');
  return out;
}

class Writer : Paragraphs {
 public:
  Writer(const Comparison& against, const TextOptions& options)
      : Paragraphs(LengthText{options.show_inch}, std::max(40, options.width)), a_(against) {}

  std::string text() {
    para(fmt::format("Against {}:", a_.file));
    TextTable table{{"", "before", "now"}, {true, false, false}, {}};
    table.rows = {
        {"verdict", verdict_words(a_.whole.verdict_before), verdict_words(a_.whole.verdict_after)},
        row("least wall, expected", a_.whole.expected_mm),
        row("at worst", a_.whole.worst_mm),
        {"a wall under the limit", odds(a_.whole.too_thin.before), odds(a_.whole.too_thin.after)}};
    out_ += text_table(table, width_);
    differences("Set-up", a_.setup);
    keys("now stated, or not asked for", a_.stated_now);
    keys("no longer stated", a_.left_out_now);
    para("Not compared, for reports do not hold it: where Z is zeroed and touched, board, flip, "
         "dowels, readings.");
    differences("Meshes", a_.meshes);
    walls();
    return take();
  }

 private:
  std::string length(const std::optional<double>& mm) const {
    return mm ? words_.length(*mm) : kNotTold;
  }
  std::vector<std::string> row(const char* name, const ComparedNumber& mm) const {
    return {name, length(mm.before), length(mm.after)};
  }
  static std::string odds(const std::optional<double>& fraction) {
    return fraction ? odds_text(*fraction) : kNotTold;
  }

  void differences(const char* what, const std::vector<ComparedWords>& rows) {
    if (rows.empty())
      para(fmt::format("{}: the same, as far as both reports tell it.", what));
    else
      para(fmt::format("{}, before and now:", what));
    for (const ComparedWords& r : rows)
      para(fmt::format("{}: {}; now {}", r.what, r.before.empty() ? kNotTold : r.before,
                       r.after.empty() ? kNotTold : r.after),
           "  - ");
  }

  void keys(const char* what, const std::vector<std::string>& names) {
    if (!names.empty())
      para(fmt::format("{}: {}", what, fmt::join(names, ", ")), "  - ");
  }

  void walls() {
    if (!a_.walls.empty()) {
      TextTable table{{"Wall", "before", "now", "expected", "now", "too thin", "now"},
                      {true, true, true, false, false, false, false},
                      {}};
      for (const ComparedWall& w : a_.walls)
        table.rows.push_back({shorten_middle(printable(w.name), std::max(8, width_ - 58)),
                              verdict_words(w.verdict_before), verdict_words(w.verdict_after),
                              number(w.expected_mm.before), number(w.expected_mm.after),
                              odds(w.too_thin.before), odds(w.too_thin.after)});
      out_ += text_table(table, width_);
    }
    if (a_.walls_of_one > 0)
      para(fmt::format("Walls that only one of the two has: {}.", a_.walls_of_one));
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
