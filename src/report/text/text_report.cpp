#include "report/text/text_report.h"

#include "base/text/shorten_middle.h"
#include "base/text/wrap_text.h"
#include "report/json/resurface_report.h"
#include "report/text/against_text.h"
#include "report/text/cause_table.h"
#include "report/text/paragraphs.h"
#include "report/text/place_table.h"
#include "report/text/text_table.h"
#include "report/words/advice_text.h"
#include "report/words/cause_text.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"
#include "report/words/pad_text.h"
#include "report/words/parts_text.h"
#include "report/words/short_warnings.h"
#include "report/words/shortened_assumptions.h"
#include "report/words/verdict_text.h"
#include "report/words/wall_name.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace leastwall {
namespace {

// Of a short report.
constexpr std::size_t kMostSafeWalls = 5;
constexpr std::string_view kInterval = "the interval of the chance";

/// Writes the sections of one report one after the other.
class Writer : Paragraphs {
 public:
  Writer(const CheckReport& report, const TextOptions& options)
      : Paragraphs(LengthText{options.show_inch}, std::max(40, options.width)), r_(report),
        o_(options) {}

  std::string text() {
    verdict();
    advice();
    if (o_.against)
      out_ += "\n" + against_text(*o_.against, o_);
    meshes();
    walls();
    least_wall();
    out_ += "\n" + place_table(r_.wall, o_);
    if (r_.wall.regions.size() > listed_places(r_.wall, o_) && !o_.all)
      left_out_.emplace_back("more thin places");
    areas();
    chance();
    if (const std::string causes = cause_table(r_.wall, o_); !causes.empty())
      out_ += "\n" + causes;
    resurface();
    pad();
    parts();
    warnings();
    assumptions();
    not_checked();
    closing();
    return take();
  }

 private:
  std::string wall(double mm) const { return words_.wall_number(mm, r_.wall.limit_mm); }
  /// The column of millimetres beside inches.
  std::string beside(const std::string& mm) const { return o_.show_inch ? mm : ""; }
  std::string mm_wall(double mm) const { return wall_text(mm, r_.wall.limit_mm); }

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
    why();
    // What is accepted stands beside the chance.
    if (!r_.basis.text.empty() && (o_.all || !r_.basis.by_chance || !r_.wall.chance))
      para("Basis: " + r_.basis.text);
    if (r_.wall.verdict != Verdict::unproven)
      for (const Notice& n : look)
        para("LOOK FIRST: " + n.text);
  }

  /// What takes most of the wall where it is thinnest.
  void why() {
    const WallReport& w = r_.wall;
    if (w.verdict == Verdict::safe || w.verdict == Verdict::unproven)
      return;
    if (w.least_wall.design_mm < w.limit_mm - kLimitTolerance_mm)
      return para(fmt::format("The model itself is under the limit there: {}.",
                              w.least_wall.design_mm > 0
                                  ? words_.wall(w.least_wall.design_mm, w.limit_mm)
                                  : "a hole as drawn"));
    const auto most = std::ranges::max_element(w.causes, {}, [](const CauseRow& c) {
      return c.is_shift() ? std::max(0.0, -c.at_thinnest_mm) : std::abs(c.at_thinnest_mm);
    });
    if (most != w.causes.end())
      para(fmt::format("Most of it: {}, {}.", cause_text_with_side(most->id), known_words(*most)));
  }

  void meshes() {
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
    if (!r_.box.empty())
      size(r_.box.size());
  }

  /// Under the files, so that a wrong unit is seen.
  void size(Vec3 d) {
    const auto sides = [&](bool inch) {
      const LengthText words{inch};
      const int decimals = 1;
      return fmt::format("{} x {} x {} {}", words.number(d.x, decimals),
                         words.number(d.y, decimals), words.number(d.z, decimals), words.unit());
    };
    const std::string text =
        words_.inch ? fmt::format("{} ({})", sides(true), sides(false)) : sides(false);
    out_ += wrap_text(text, width_, "Size    ");
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
    for (const std::size_t w : listed_walls()) {
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
    if (const std::size_t more = r_.walls.size() - table.rows.size(); more > 0) {
      out_ += fmt::format("  and {} more, safe\n", more);
      left_out_.emplace_back("walls that are safe");
    }
    para(fmt::format("What follows is about wall {}, {}, which decides; its numbers \"may be\" and "
                     "the changes that would help are for the whole job.",
                     r_.governing + 1, printable(wall_name(r_.walls[r_.governing]))));
  }

  /// Worst first; in a short report all that are not safe, and some more.
  std::vector<std::size_t> listed_walls() const {
    std::vector<std::size_t> listed = worst_first(r_.walls);
    if (o_.all)
      return listed;
    std::size_t kept = 0;
    std::erase_if(listed, [&](std::size_t w) {
      const bool keep = ++kept <= kMostSafeWalls || r_.walls[w].wall.verdict != Verdict::safe;
      return !keep;
    });
    return listed;
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
    if (o_.all)
      least_wall_at_length();
    else
      least_wall_in_a_row();
  }

  void least_wall_in_a_row() {
    const WallReport::Least& least = r_.wall.least_wall;
    const bool spread = least.spread_low_mm && least.spread_high_mm;
    TextTable table{{"Least wall", "designed", "expected", "worst case",
                     spread ? "19 times in 20" : "", "limit"},
                    {true, false, false, false, false, false},
                    {}};
    const auto add = [&](const std::string& unit, const auto& of_wall, const std::string& limit) {
      table.rows.push_back(
          {unit + (least.may_be_deeper ? ", or deeper" : ""), of_wall(least.design_mm),
           of_wall(least.expected_mm), of_wall(least.worst_mm),
           spread ? of_wall(*least.spread_low_mm) + " to " + of_wall(*least.spread_high_mm) : "",
           limit});
    };
    add(
        words_.inch ? "inch" : "mm", [&](double mm) { return wall(mm); },
        words_.number(r_.wall.limit_mm));
    if (words_.inch)
      add(
          "mm", [&](double mm) { return mm_wall(mm); }, fixed_text(r_.wall.limit_mm, 3));
    out_ += "\n";
    out_ += text_table(table, width_);
  }

  void least_wall_at_length() {
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

  void areas() {
    if (!o_.all) {
      left_out_.emplace_back("areas");
      return;
    }
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
    const bool accepts = r_.basis.by_chance && !r_.basis.text.empty();
    heading(fmt::format(
        "Chance for the whole {}, from {} trials{}:", several() ? "job" : "piece", c.trials,
        accepts ? fmt::format("; you accept {}", odds_text(r_.basis.accepted_chance)) : ""));
    const std::string under = "a wall under the limit: " +
                              chance_words(c.under_limit, c.under_limit_low, c.under_limit_high);
    const std::string through = "cut through somewhere: " +
                                chance_words(c.cut_through, c.cut_through_low, c.cut_through_high);
    if (o_.all)
      para(under, "  ");
    para(o_.all ? through : under + "; " + through, "  ");
  }

  /// With nothing seen in the trials only the upper end of the interval says something.
  std::string chance_words(double p, double low, double high) {
    if (!(p > 0))
      return fmt::format("not once (at most {})", odds_text(high));
    std::string out = odds_text(p);
    if (p >= 1 || odds_text(low) == odds_text(high))
      return out;
    if (o_.all)
      out += fmt::format(" (19 times in 20 between {} and {})", odds_text(low), odds_text(high));
    else if (left_out_.empty() || left_out_.back() != kInterval)
      left_out_.emplace_back(kInterval);
    return out;
  }

  void advice() {
    if (r_.advice.empty())
      return;
    const std::size_t shown = o_.all ? r_.advice.size() : std::min(kBestChanges, r_.advice.size());
    heading(shown < r_.advice.size()
                ? fmt::format("What would help, each by itself, best first ({} of {}):", shown,
                              r_.advice.size())
                : "What would help, each by itself, best first:");
    if (shown < r_.advice.size())
      left_out_.push_back(fmt::format("{} more {}", r_.advice.size() - shown,
                                      r_.advice.size() - shown == 1 ? "change" : "changes"));
    for (std::size_t i = 0; i < shown; ++i)
      para(advice_text(r_.advice[i], words_), fmt::format("  {}. ", i + 1));
  }

  void pad() {
    if (!r_.pad)
      return;
    const PadRow& p = *r_.pad;
    if (!p.reading_mm && !o_.all) {
      if (pad_not_cut(p).empty())
        left_out_.emplace_back("a pad to measure");
      return;
    }
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
    const std::vector<std::string> sentences = resurface_sentences(*r_.resurface);
    if (!o_.all && !r_.resurface->advised) {
      left_out_.emplace_back("why not to resurface the bed");
      return;
    }
    heading("The bed, the spoilboard under the work:");
    for (const std::string& sentence : sentences)
      para(sentence, "  - ");
  }

  void parts() {
    if (several() && o_.all)
      list("The parts on the board:", board_sentences(r_.parts.board));
    else if (several() && !board_sentences(r_.parts.board).empty())
      left_out_.emplace_back("room between the parts");
    std::vector<std::string> seams;
    for (const SeamRow& seam : r_.parts.seams)
      for (std::string& sentence : seam_sentences(seam)) {
        seams.push_back(std::move(sentence));
        if (!o_.all) // how large it is; where and by what stands behind it
          break;
      }
    list("The seam, when the halves are glued:", seams);
  }

  void warnings() {
    const std::vector<Notice> told = o_.all ? r_.warnings : short_warnings(r_.warnings);
    if (told.empty())
      return;
    if (!o_.all && std::ranges::find(told, "open-edges", &Notice::code) != told.end())
      left_out_.emplace_back("how open the meshes are");
    heading(fmt::format("Warnings ({}):", told.size()));
    for (const Notice& w : told)
      para(o_.all ? fmt::format("{} [{}]", w.text, w.code) : w.text, "  ! ");
  }

  void assumptions() {
    std::vector<Assumption> told = o_.all ? r_.assumptions : telling_assumptions(r_.assumptions);
    if (told.size() < r_.assumptions.size())
      left_out_.emplace_back("usual values");
    const std::vector<std::string> items = shortened_assumptions(told);
    constexpr std::string_view title = "Taken as given, because no one stated it:";
    if (o_.all || items.empty())
      return list(title, items);
    std::string all(title);
    for (const std::string& item : items)
      all += fmt::format(" {}{}", item, item.ends_with('.') ? "" : ".");
    out_ += "\n";
    para(all);
  }

  void not_checked() {
    if (o_.all || r_.not_checked.empty())
      return list("Not checked:", r_.not_checked);
    out_ += "\n";
    std::vector<std::string> in_short;
    for (const std::string& item : r_.not_checked)
      in_short.push_back(item.substr(0, item.find(':'))); // behind it are examples
    para(fmt::format("Not checked: {}.", fmt::join(in_short, "; ")));
  }

  void closing() {
    out_ += "\n";
    if (!left_out_.empty())
      para(fmt::format("More with `leastwall check --all`: {}.", fmt::join(left_out_, ", ")));
    para("This is computed from the numbers given. Before the good board, cut the thinnest place "
         "in waste wood and measure it.");
  }

  std::vector<std::string> left_out_; ///< what `options.all` would add
  const CheckReport& r_;
  const TextOptions& o_;
};

} // namespace

std::string text_report(const CheckReport& report, const TextOptions& options) {
  return Writer(report, options).text();
}

} // namespace leastwall
