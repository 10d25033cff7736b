#include "report/text/text_report.h"

#include "base/text/wrap_text.h"
#include "base/units.h"
#include "report/json/resurface_report.h"
#include "report/text/paragraphs.h"
#include "report/text/text_table.h"
#include "report/words/cause_text.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"
#include "report/words/pad_text.h"
#include "report/words/parts_text.h"
#include "report/words/shortened_assumptions.h"
#include "report/words/verdict_text.h"
#include "report/words/wall_name.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <set>
#include <span>

namespace leastwall {
namespace {

constexpr std::size_t kMaxRegions = 10;
constexpr int kPlaceColumns = 64; // of a thin place, without its cause

/// Writes the sections of one report one after the other.
class Writer : Paragraphs {
 public:
  Writer(const CheckReport& report, const TextOptions& options)
      : Paragraphs(LengthText{options.show_inch}, std::max(40, options.width)), r_(report),
        o_(options) {}

  std::string text() {
    verdict();
    walls();
    least_wall();
    thin_places();
    areas();
    chance();
    causes();
    advice();
    resurface();
    pad();
    parts();
    warnings();
    list("Taken as given, because no one stated it:", shortened_assumptions(r_.assumptions));
    list("Not checked:", r_.not_checked);
    out_ += "\n";
    para("This is computed from the numbers given. Before the good board, cut the thinnest place "
         "in waste wood and measure it.");
    return take();
  }

 private:
  std::string wall(double mm) const { return words_.wall_number(mm, r_.wall.limit_mm); }
  /// The column of millimetres beside inches.
  std::string beside(const std::string& mm) const { return o_.show_inch ? mm : ""; }
  std::string mm_wall(double mm) const { return wall_text(mm, r_.wall.limit_mm); }
  /// With its sign, in the unit of the table.
  std::string signed_number(double mm) const {
    const std::string text = words_.number(mm);
    return mm > 0 && text.find_first_of("123456789") != std::string::npos ? "+" + text : text;
  }
  static std::string signed_mm(double mm) {
    const std::string text = fixed_text(mm, 3);
    return mm > 0 && text != "0.000" ? "+" + text : text;
  }

  void verdict() {
    // What was found stands in full under the words.
    const std::string banner =
        r_.wall.verdict == Verdict::unproven ? verdict_headline(r_).banner : headline_line(r_);
    if (o_.colour)
      out_ += fmt::format("\033[{}m{}\033[0m\n", ansi(r_.wall.verdict), banner);
    else
      out_ += banner + "\n";
    const std::vector<Notice> look = look_first(r_);
    if (r_.wall.verdict == Verdict::unproven) // what to look at comes before any number
      for (const Notice& n : look)
        para(n.text, "  - ");
    para(verdict_sentence(r_, o_.show_inch));
    if (!r_.basis.text.empty())
      para("Basis: " + r_.basis.text);
    if (r_.wall.verdict != Verdict::unproven)
      for (const Notice& n : look)
        para("LOOK FIRST: " + n.text);
    out_ += "\n";
    const auto file = [&](std::string_view label, const std::string& name, std::size_t triangles) {
      if (name.empty())
        return;
      const std::string count = fmt::format(" ({} triangles)", triangles);
      const int room = width_ - text_columns(label) - text_columns(count);
      out_ += std::string(label) + shorten_middle(printable(name), room) + count + "\n";
    };
    file("Pocket  ", r_.pocket.file, r_.pocket.triangles);
    file("Skin    ", r_.skin.file, r_.skin.triangles);
  }

  bool several() const { return r_.walls.size() > 1; }

  /// One line each, worst first.
  void walls() {
    if (!several())
      return;
    out_ += "\n";
    TextTable table{{"", "Wall", "verdict", "expected", "worst", "limit", "too thin"},
                    {false, true, true, false, false, false, false},
                    {}};
    for (const std::size_t w : worst_first(r_.walls)) {
      const NamedWall& named = r_.walls[w];
      const WallReport& wall = named.wall;
      const auto length = [&](double mm) { return words_.wall_number(mm, wall.limit_mm); };
      table.rows.push_back(
          {std::to_string(w + 1), shorten_middle(printable(wall_name_short(named)), width_ - 50),
           std::string(verdict_in_text(wall.verdict)), length(wall.least_wall.expected_mm),
           length(wall.least_wall.worst_mm), words_.number(wall.limit_mm),
           wall.chance ? odds_text(wall.chance->under_limit) : ""});
      const auto same_name = [&named](const NamedWall& other) {
        return wall_name_short(other) == wall_name_short(named);
      };
      const bool clear = named.outer == "skin" && std::ranges::count_if(r_.walls, same_name) == 1 &&
                         text_columns(wall_name_short(named)) <= width_ - 50;
      table.below.push_back(
          clear ? ""
                : printable(fmt::format("{} between {} and {}", wall_material(named), named.outer,
                                        named.inner)));
    }
    out_ += text_table(table, width_);
    para(fmt::format("What follows is about wall {}, {}, which decides; its numbers \"may be\" and "
                     "the changes that would help are for the whole job.",
                     r_.governing + 1, printable(wall_name(r_.walls[r_.governing]))));
  }

  static const char* ansi(Verdict verdict) {
    switch (verdict) {
    case Verdict::safe:
      return "1;32";
    case Verdict::at_risk:
      return "1;33";
    case Verdict::thin:
      return "1;31";
    case Verdict::cut_through:
      return "1;7;31";
    case Verdict::unproven:
      break;
    }
    return "1;7;35";
  }

  void least_wall() {
    const WallReport::Least& least = r_.wall.least_wall;
    TextTable table{
        {"Least wall", o_.show_inch ? "inch" : "mm", beside("mm")}, {true, false, false}, {}};
    const auto add = [&](const char* name, double mm) {
      table.rows.push_back({name, wall(mm), beside(mm_wall(mm))});
    };
    add(least.may_be_deeper ? "as designed, or deeper" : "as designed", least.design_mm);
    if (least.straight_down_mm)
      add("  straight down there, as a pin probes it", *least.straight_down_mm);
    add(least.may_be_deeper ? "expected, or deeper" : "expected", least.expected_mm);
    add(least.may_be_deeper ? "worst case, or deeper" : "worst case", least.worst_mm);
    if (least.spread_low_mm && least.spread_high_mm) {
      add("19 times in 20, from", *least.spread_low_mm);
      add("to", *least.spread_high_mm);
    }
    table.rows.push_back(
        {"limit", words_.number(r_.wall.limit_mm), beside(fixed_text(r_.wall.limit_mm, 3))});
    out_ += "\n";
    out_ += text_table(table, width_);
  }

  void thin_places() {
    out_ += "\n";
    if (r_.wall.regions.empty())
      return para("No thin places: the wall stays above the limit everywhere, also in the worst "
                  "case.");
    para(o_.show_inch
             ? "Thin places, numbered as in the picture (walls and x, y, z in inches, areas in "
               "square inches; below them mm and mm2):"
             : "Thin places, numbered as in the picture (walls and x, y, z in mm, areas in mm2):");
    const std::size_t shown = std::min(kMaxRegions, r_.wall.regions.size());
    const std::span<const RegionRow> rows(r_.wall.regions.data(), shown);
    if (std::ranges::any_of(rows, [](const RegionRow& row) { return row.worst_mm <= 0; }))
      para("A wall under 0 is a hole, so much too deep.", "  ");
    // Millimetres beside inches and causes go into lines of their own where one line has no room
    // for them.
    bool wide = !o_.show_inch;
    for (const RegionRow& row : rows)
      wide = wide && text_columns(worst_cause_of(row)) <= width_ - kPlaceColumns;
    TextTable table{
        {"no", "expected", "worst", "too thin", "at risk", "x", "y", "z", wide ? "mostly by" : ""},
        {false, false, false, false, false, false, false, false, true},
        {}};
    for (const RegionRow& row : rows)
      table.rows.push_back({std::to_string(&row - rows.data() + 1), wall(row.least_wall_mm),
                            wall(row.worst_mm), shown_area(row.area_under_limit_mm2),
                            shown_area(row.area_mm2), words_.number(row.at.x, 1),
                            words_.number(row.at.y, 1), words_.number(row.at.z, 1),
                            wide ? worst_cause_of(row) : ""});
    for (const RegionRow& row : rows)
      table.below.push_back(wide ? "" : below_place(row));
    out_ += text_table(table, width_);
    if (r_.wall.regions.size() > shown)
      out_ += fmt::format("  and {} more\n", r_.wall.regions.size() - shown);
  }

  /// What has no room in the line of a place.
  std::string below_place(const RegionRow& row) const {
    std::string out;
    if (o_.show_inch)
      out = fmt::format("({}, worst {} mm; {}, {} mm2; {} mm) ", mm_wall(row.least_wall_mm),
                        mm_wall(row.worst_mm), short_area(row.area_under_limit_mm2),
                        short_area(row.area_mm2), place_text(row.at));
    out += worst_cause_of(row);
    return out;
  }

  static std::string short_area(double mm2) {
    return mm2 > 0 && mm2 < 0.05 ? "<0.1" : fixed_text(mm2, 1);
  }

  std::string shown_area(double mm2) const {
    if (!o_.show_inch)
      return short_area(mm2);
    const double in2 = mm2 / (kMillimetresPerInch * kMillimetresPerInch);
    return in2 > 0 && in2 < 0.00005 ? "<0.0001" : fixed_text(in2, 4);
  }

  void areas() {
    out_ += "\n";
    para(fmt::format("Skin under the limit: {} as expected, {} in the worst case, of {} measured.",
                     words_.area(r_.wall.area_under_limit_mm2),
                     words_.area(r_.wall.area_at_risk_mm2), words_.area(r_.skin_area_mm2)));
    if (r_.left_out_area_mm2 > 0)
      para(fmt::format("Left out: {} lying flat on the pocket face, which is not machined.",
                       words_.area(r_.left_out_area_mm2)));
  }

  void chance() {
    if (!r_.wall.chance)
      return;
    const ChanceRow& c = *r_.wall.chance;
    heading(fmt::format("Chance for the whole {}, from {} trials:", several() ? "job" : "piece",
                        c.trials));
    const auto line = [&](const char* what, double p, double low, double high) {
      // With nothing seen in the trials only the upper end of the interval says something.
      para(p > 0 ? fmt::format("{}: {} (19 times in 20 between {} and {})", what, odds_text(p),
                               odds_text(low), odds_text(high))
                 : fmt::format("{}: not once (at most {})", what, odds_text(high)),
           "  ");
    };
    line("a wall under the limit", c.under_limit, c.under_limit_low, c.under_limit_high);
    line("cut through somewhere", c.cut_through, c.cut_through_low, c.cut_through_high);
  }

  void causes() {
    if (r_.wall.causes.empty())
      return;
    heading("What it does at the thinnest place, and how large it may be for a safe verdict:");
    // Beside inches what is known and millimetres go into a line of their own.
    TextTable table{{"cause", "side", o_.show_inch ? "" : "known", o_.show_inch ? "inch" : "mm",
                     "share", "may be"},
                    {true, true, true, false, false, false},
                    {}};
    // At 80 columns: names of 26, what is known in 20.
    const int room = std::max(8, width_ - 54);
    const int known_room = o_.show_inch ? -1 : std::max(8, width_ - 60);
    std::set<std::string> told; // keys whose number is shown already
    bool shared = false;
    for (const CauseRow& c : r_.wall.causes) {
      const bool again = c.largest_allowed_mm && !c.key.empty() && !told.insert(c.key).second;
      shared = shared || again;
      const std::string known = printable(known_text(c));
      table.below.push_back(text_columns(known) <= known_room ? ""
                            : o_.show_inch                    ? printable(below_cause(c, again))
                                                              : known);
      table.rows.push_back(
          {shorten_middle(cause_text(c.id), room), side_of(c.id),
           text_columns(known) <= known_room ? known
           : o_.show_inch                    ? ""
                                             : "below",
           c.is_shift() ? signed_number(c.at_thinnest_mm) : "+-" + words_.number(c.at_thinnest_mm),
           c.is_shift() ? "-" : fixed_text(c.share * 100, 0) + " %",
           again                  ? "same"
           : c.largest_allowed_mm ? (c.allowed_at_least ? ">=" : "") +
                                        (is_length(c) ? words_.number(*c.largest_allowed_mm)
                                                      : fixed_text(*c.largest_allowed_mm, 3))
           : c.is_shift() ? "-"
                          : "not alone"});
    }
    out_ += text_table(table, width_);
    if (std::ranges::any_of(r_.wall.causes, [](const CauseRow& c) {
          return !c.is_shift() && !c.largest_allowed_mm;
        }))
      para("\"not alone\": however small it gets, this cause alone does not make it safe.", "  ");
    if (std::ranges::any_of(r_.wall.causes, [](const CauseRow& c) { return c.allowed_at_least; }))
      para("\">=\": safe up to here; beyond it places would count that were not measured finely.",
           "  ");
    if (std::ranges::any_of(r_.wall.causes, [](const CauseRow& c) { return c.id.set_up > 0; }))
      para("\"A 2\": the second set-up on side A, with what belongs to it alone.", "  ");
    if (shared)
      para("\"same\": one number of the job stands for these rows; it may be as large as the "
           "first of them says.",
           "  ");
  }

  /// "A", "B", "A 2" for the second set-up of side A; empty for what belongs to no side.
  static std::string side_of(const CauseId& id) {
    const std::string side = !id.side ? "" : *id.side == Side::a ? "A" : "B";
    return id.set_up > 0 ? fmt::format("{} {}", side, id.set_up + 1) : side;
  }

  /// Whether the size of a cause is a length: `largest_allowed_mm` is in its unit.
  static bool is_length(const CauseRow& c) { return c.unit == "mm" || c.unit.empty(); }

  static std::string worst_cause_of(const RegionRow& row) {
    return row.worst_cause ? cause_text_short(*row.worst_cause) : std::string();
  }

  /// What has no room in the line of a cause beside inches.
  std::string below_cause(const CauseRow& c, bool again) const {
    std::string out =
        fmt::format("({}{} mm", c.is_shift() ? "" : "+-",
                    c.is_shift() ? signed_mm(c.at_thinnest_mm) : fixed_text(c.at_thinnest_mm, 3));
    if (c.largest_allowed_mm && !again && is_length(c))
      out += fmt::format("; may be {}{} mm", c.allowed_at_least ? ">=" : "",
                         fixed_text(*c.largest_allowed_mm, 3));
    out += ") " + words_.sentence(known_text(c));
    return out;
  }

  void advice() {
    if (r_.advice.empty())
      return;
    heading("What would help, best first:");
    for (std::size_t i = 0; i < r_.advice.size(); ++i) {
      const AdviceRow& a = r_.advice[i];
      std::string change = a.change;
      if (!change.empty() && change.back() == '.')
        change.pop_back();
      para(fmt::format("{} ({}, then {}; {})", change, words_.change(a.gain_mm),
                       verdict_in_text(a.verdict), cost_text(a.cost)),
           fmt::format("  {}. ", i + 1));
    }
  }

  void pad() {
    if (!r_.pad)
      return;
    const PadRow& p = *r_.pad;
    const auto both = [&](double mm) { return words_.length(mm); };
    heading("Stop, measure, shift:");
    if (const std::string why = pad_not_cut(p); !why.empty()) {
      para(why, "  ");
      return;
    }
    para(fmt::format("Cut a flat pad, {0} by {0} mm, in the waste with both programs, its middle "
                     "at x {1} y {2}: pocket floor {3} and skin {4} under the pocket face, so {5} "
                     "thick. It should read {6}; under {7} or over {8} something else is wrong.",
                     fixed_text(p.size_mm, 0), fixed_text(p.x_mm, 1), fixed_text(p.y_mm, 1),
                     both(r_.top_z_mm - p.floor_z_mm), both(r_.top_z_mm - p.skin_z_mm),
                     both(p.design_mm), both(p.expected_mm), both(p.low_mm), both(p.high_mm)),
         "  ");
    if (needs_no_shift(p))
      para(fmt::format("It reads {}, as drawn: no Z shift is needed. Then the verdict is {}.",
                       both(*p.reading_mm), verdict_in_text(p.verdict)),
           "  ");
    else if (p.reading_mm && p.shift_mm)
      para(fmt::format("It reads {}: before finishing side B type in a Z shift of {} ({} the bit). "
                       "Then the verdict is {}.",
                       both(*p.reading_mm), words_.change(*p.shift_mm),
                       *p.shift_mm < 0 ? "lowers" : "raises", verdict_in_text(p.verdict)),
           "  ");
    else if (p.reading_mm)
      para(fmt::format("It reads {}, which the stated errors cannot explain: stop and find what is "
                       "wrong. No shift is worked out from it.",
                       both(*p.reading_mm)),
           "  ");
    else
      para(fmt::format("Before finishing side B type in what is missing as Z shift: {} minus the "
                       "reading. Then the verdict is {}.",
                       both(p.design_mm), verdict_in_text(p.verdict)),
           "  ");
  }

  void resurface() {
    if (!r_.resurface)
      return;
    heading("The bed, the spoilboard under the work:");
    for (const std::string& sentence : resurface_sentences(*r_.resurface))
      para(sentence, "  - ");
  }

  void parts() {
    if (several())
      list("The parts on the board:", board_sentences(r_.parts.board));
    std::vector<std::string> seams;
    for (const SeamRow& seam : r_.parts.seams)
      for (std::string& sentence : seam_sentences(seam))
        seams.push_back(std::move(sentence));
    list("The seam, when the halves are glued:", seams);
  }

  void warnings() {
    if (r_.warnings.empty())
      return;
    heading(fmt::format("Warnings ({}):", r_.warnings.size()));
    for (const Notice& w : r_.warnings)
      para(fmt::format("{} [{}]", w.text, w.code), "  ! ");
  }

  const CheckReport& r_;
  const TextOptions& o_;
};

} // namespace

std::string text_report(const CheckReport& report, const TextOptions& options) {
  return Writer(report, options).text();
}

} // namespace leastwall
