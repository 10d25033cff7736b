#include "report/text/cause_table.h"

#include "base/text/shorten_middle.h"
#include "base/text/wrap_text.h"
#include "report/text/paragraphs.h"
#include "report/text/text_table.h"
#include "report/words/cause_text.h"
#include "report/words/number_text.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <set>
#include <vector>

namespace leastwall {
namespace {

constexpr double kLittle_mm = 0.005;

/// "A", "B", "A 2" for the second set-up of side A; empty for what belongs to no side.
std::string side_of(const CauseId& id) {
  const std::string side = !id.side ? "" : *id.side == Side::a ? "A" : "B";
  return id.set_up > 0 ? fmt::format("{} {}", side, id.set_up + 1) : side;
}

/// Whether the size of a cause is a length: `largest_allowed_mm` is in its unit.
bool is_length(const CauseRow& c) {
  return c.unit == "mm" || c.unit.empty();
}

std::string signed_mm(double mm) {
  const std::string text = fixed_text(mm, 3);
  return mm > 0 && text != "0.000" ? "+" + text : text;
}

bool shown_as_nothing(const CauseRow& c) {
  return fixed_text(c.at_thinnest_mm, 3) == "0.000";
}

/// Nothing of it could be made smaller with any gain. Of a shift every hundredth is told.
bool does_little(const CauseRow& c) {
  return shown_as_nothing(c) || (!c.is_shift() && !c.largest_allowed_mm &&
                                 std::abs(c.at_thinnest_mm) < kLittle_mm && c.share < 0.005);
}

class Writer : Paragraphs {
 public:
  Writer(const WallReport& wall, const TextOptions& options)
      : Paragraphs(LengthText{options.show_inch}, std::max(40, options.width)), wall_(wall) {
    for (const CauseRow& c : wall.causes)
      if (options.all || !does_little(c) || thins_most(c))
        shown_.push_back(&c);
      else
        little_ = little_ || !shown_as_nothing(c);
  }

  std::string text() {
    if (wall_.causes.empty())
      return {};
    para("What it does at the thinnest place, and how large it may be for a safe verdict:");
    if (!shown_.empty())
      table();
    if (const std::size_t left = wall_.causes.size() - shown_.size(); left > 0)
      para(fmt::format("{} {} less than {}{} here.", left,
                       left == 1 ? "other cause does" : "other causes do",
                       little_       ? words_.length(words_.inch ? 0.00508 : kLittle_mm)
                       : words_.inch ? words_.length(0.00254)
                                     : "0.001 mm",
                       left == 1 ? "" : " each"),
           "  ");
    legend();
    return take();
  }

 private:
  bool thins_most(const CauseRow& c) const {
    return std::ranges::any_of(wall_.regions,
                               [&](const RegionRow& place) { return place.worst_cause == c.id; });
  }

  void table() {
    // Beside inches what is known and millimetres go into a line of their own.
    TextTable table{{"cause", "side", words_.inch ? "" : "known", words_.inch ? "inch" : "mm",
                     "share", "may be"},
                    {true, true, true, false, false, false},
                    {}};
    for (const CauseRow* c : shown_)
      add(*c, table);
    out_ += text_table(table, width_);
  }

  void add(const CauseRow& c, TextTable& table) {
    // At 80 columns: names of 26, what is known in 20.
    const int room = std::max(8, width_ - 54);
    const int known_room = words_.inch ? -1 : std::max(8, width_ - 60);
    const bool again = c.largest_allowed_mm && !c.key.empty() && !told_.insert(c.key).second;
    shared_ = shared_ || again;
    const std::string known = printable(known_words(c));
    const bool fits = text_columns(known) <= known_room;
    table.below.push_back(fits ? "" : words_.inch ? printable(below(c, again)) : known);
    table.rows.push_back(
        {shorten_middle(cause_text(c.id), room), side_of(c.id),
         fits          ? known
         : words_.inch ? ""
                       : "below",
         c.is_shift() ? signed_number(c.at_thinnest_mm) : "+-" + words_.number(c.at_thinnest_mm),
         c.is_shift() ? "-" : fixed_text(c.share * 100, 0) + " %", may_be(c, again)});
  }

  std::string may_be(const CauseRow& c, bool again) const {
    if (again)
      return "same";
    if (!c.largest_allowed_mm)
      return c.is_shift() ? "-" : "not alone";
    return (c.allowed_at_least ? ">=" : "") + (is_length(c) ? words_.number(*c.largest_allowed_mm)
                                                            : fixed_text(*c.largest_allowed_mm, 3));
  }

  /// With its sign, in the unit of the table.
  std::string signed_number(double mm) const {
    const std::string text = words_.number(mm);
    return mm > 0 && text.find_first_of("123456789") != std::string::npos ? "+" + text : text;
  }

  /// What has no room in the line of a cause beside inches.
  std::string below(const CauseRow& c, bool again) const {
    std::string out =
        fmt::format("({}{} mm", c.is_shift() ? "" : "+-",
                    c.is_shift() ? signed_mm(c.at_thinnest_mm) : fixed_text(c.at_thinnest_mm, 3));
    if (c.largest_allowed_mm && !again && is_length(c))
      out += fmt::format("; may be {}{} mm", c.allowed_at_least ? ">=" : "",
                         fixed_text(*c.largest_allowed_mm, 3));
    return out + "); known: " + words_.sentence(known_words(c));
  }

  /// What the words of the table mean, as far as they stand in it.
  void legend() {
    const auto any = [this](auto&& is) {
      return std::ranges::any_of(shown_, [&](const CauseRow* c) { return is(*c); });
    };
    if (any([](const CauseRow& c) { return !c.is_shift() && !c.largest_allowed_mm; }))
      para("\"not alone\": however small it gets, this cause alone does not make it safe.", "  ");
    if (any([](const CauseRow& c) { return c.allowed_at_least; }))
      para("\">=\": safe up to here; beyond it places would count that were not measured finely.",
           "  ");
    if (any([](const CauseRow& c) { return c.distribution == Distribution::normal; }))
      para("\"standard\": a standard deviation; twice as much is reckoned with here.", "  ");
    if (any([](const CauseRow& c) { return c.id.set_up > 0; }))
      para("\"A 2\": the second set-up on side A, with what belongs to it alone.", "  ");
    if (shared_)
      para("\"same\": one number of the job stands for these rows; it may be as large as the "
           "first of them says.",
           "  ");
  }

  const WallReport& wall_;
  std::vector<const CauseRow*> shown_;
  bool little_ = false;        ///< some left out do more than is shown as nothing
  std::set<std::string> told_; ///< keys whose number is shown already
  bool shared_ = false;
};

} // namespace

std::string cause_table(const WallReport& wall, const TextOptions& options) {
  return Writer(wall, options).text();
}

} // namespace leastwall
