#include "report/text/bed_text.h"

#include "base/text/wrap_text.h"
#include "report/json/resurface_report.h"
#include "report/text/paragraphs.h"
#include "report/text/text_table.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"
#include "report/words/shortened_assumptions.h"
#include "report/words/verdict_text.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::size_t kAnswer = 2; ///< sentences of `resurface_sentences`: yes or no, how flat

std::string signed_text(double value, int decimals) {
  const std::string text = fixed_text(value, decimals);
  return value > 0 && text.find_first_not_of("0.") != std::string::npos ? fmt::format("+{}", text)
                                                                        : text;
}

class Writer : Paragraphs {
 public:
  Writer(const BedReport& report, const TextOptions& options)
      : Paragraphs(LengthText{options.show_inch}, std::max(40, options.width)), r_(report) {}

  std::string text() {
    if (r_.piece) {
      answer();
      piece();
    }
    if (r_.readings)
      readings(*r_.readings);
    if (r_.sag)
      sag(*r_.sag);
    if (r_.tram)
      tram(*r_.tram);
    if (!r_.warnings.empty()) {
      heading("What to mind:");
      for (const Notice& n : r_.warnings)
        para(n.text, "  ! ");
    }
    list("Taken as given, because no one stated it (`leastwall check --all` lists the rest):",
         shortened_assumptions(telling_assumptions(r_.assumptions)));
    if (r_.readings)
      measured(*r_.readings);
    return take();
  }

 private:
  std::string place(const Vec3& p) const { return words_.place(Point2{p.x, p.y}); }
  /// With its sign, in the unit of the report.
  std::string signed_number(double mm, int decimals) const {
    const std::string text = words_.number(mm, decimals);
    return mm > 0 && text.find_first_of("123456789") != std::string::npos ? "+" + text : text;
  }
  /// In brackets behind inches: the millimetres, or nothing.
  std::string beside(const std::string& mm) const {
    return words_.inch ? fmt::format("({} mm)", mm) : "";
  }

  /// Resurface or not, and how flat the bed is where the board lies.
  void answer() {
    if (!r_.resurface)
      return;
    const std::vector<std::string> sentences = resurface_sentences(*r_.resurface);
    for (std::size_t i = 0; i < std::min(kAnswer, sentences.size()); ++i)
      para(sentences[i]);
  }

  void piece() {
    const BedPiece& p = *r_.piece;
    heading(p.banner + " on this bed: " + p.title);
    if (!p.ground.empty())
      para("That is: " + p.ground + ".");
    para(fmt::format("Least wall expected {}, limit {} ({}). `leastwall check` says more.",
                     words_.wall(p.least_expected_mm, p.limit_mm), words_.length(p.limit_mm),
                     p.job));
    if (r_.resurface) {
      std::vector<std::string> more = resurface_sentences(*r_.resurface);
      more.erase(more.begin(),
                 more.begin() + static_cast<std::ptrdiff_t>(std::min(kAnswer, more.size())));
      list("What surfacing would take, and what to mind:", more);
    }
    if (p.advice.empty())
      return;
    heading("What would help, each by itself, best first:");
    for (std::size_t i = 0; i < std::min<std::size_t>(3, p.advice.size()); ++i)
      para(fmt::format("{} ({}, then {}; {})", p.advice[i].change,
                       words_.change(p.advice[i].gain_mm), verdict_in_text(p.advice[i].verdict),
                       cost_text(p.advice[i].cost)),
           fmt::format("  {}. ", i + 1));
  }

  void readings(const BedReadings& r) {
    const Flatness& f = r.flatness;
    const bool of_board = r.read.kind == ReadingsKind::thickness;
    const std::string within = words_.length(f.range_mm);
    const char* known = of_board ? "thickness varies" : "height changes";
    heading(r.read.map.outline().size() < 3
                ? fmt::format("Read along one line only: its {} by {} there; what is beside that "
                              "line nothing says",
                              known, within)
            : of_board ? "The board's thickness varies by " + within
            : r.read.tilt_known
                ? fmt::format("The bed is flat within {}, as the spindle sees it", within)
                : fmt::format("The bed is {} hollow under the straightedge; its tilt is not known",
                              within));
    para(fmt::format("{}: {} reading{}{}", r.file, r.read.readings, r.read.readings == 1 ? "" : "s",
                     r.read.missing > 0 ? fmt::format(", {} missing", r.read.missing) : ""));
    if (!r_.piece && !of_board)
      para("Whether that is flat enough, and whether to resurface, depends on the piece: --job "
           "JOB.toml answers it.");
    if (!f.likely_causes.empty()) {
      heading(f.likely_causes.size() == 1 ? "Likely cause:" : "Likely causes, biggest first:");
      for (const Notice& n : f.likely_causes)
        para(n.text, "  - ");
    }
    shape(f, of_board);
  }

  /// How the readings were understood, and the measures of the metrologist.
  void measured(const BedReadings& r) {
    list("The readings were understood as:", r.read.understood);
    flatness(r.flatness, r.read.kind == ReadingsKind::thickness);
  }

  void flatness(const Flatness& f, bool of_board) {
    TextTable table{
        {of_board ? "Evenness" : "Flatness", words_.inch ? "inch" : "mm", words_.inch ? "mm" : ""},
        {true, false, false},
        {}};
    const auto add = [&](const std::string& name, double mm) {
      table.rows.push_back({name, words_.number(mm, 4), words_.inch ? fixed_text(mm, 4) : ""});
    };
    add("highest minus lowest reading", f.range_mm);
    add("about the least squares plane", f.least_squares.peak_to_valley_mm);
    add("minimum zone, " + f.minimum_zone.type() + " contacts", f.minimum_zone.normal_mm);
    out_ += fmt::format("\n{}", text_table(table, width_));
    out_ += "\n";
    para("Contacts that prove the minimum zone (no two parallel planes lie closer; by their "
         "shares the upper and the lower ones have the same middle):");
    TextTable contacts{
        {"plane", "x", "y", "reading", "share", ""}, {true, false, false, false, false, true}, {}};
    for (const ZoneContact& c : f.minimum_zone.contacts)
      contacts.rows.push_back({c.upper ? "upper" : "lower", words_.number(c.at.x, 1),
                               words_.number(c.at.y, 1), signed_number(c.at.z, 4),
                               fixed_text(c.weight, 2),
                               beside(fmt::format("x {} y {}, {}", fixed_text(c.at.x, 1),
                                                  fixed_text(c.at.y, 1), signed_text(c.at.z, 4)))});
    out_ += text_table(contacts, width_);
  }

  void shape(const Flatness& f, bool of_board) {
    TextTable table{{"Shape", "", ""}, {true, false, true}, {}};
    const auto add = [&](const char* name, const std::string& value, const std::string& more) {
      table.rows.push_back({name, value, more});
    };
    const auto tilt = [&](const char* name, const std::optional<double>& slope,
                          const std::optional<double>& deg) {
      if (slope)
        add(name, words_.inch ? signed_text(*slope * kInchPerFoot, 4) : signed_text(*slope, 3),
            fmt::format("{}{}",
                        words_.inch ? fmt::format("in per ft ({} mm per m)", signed_text(*slope, 3))
                                    : "mm per m",
                        deg ? fmt::format(", {} degrees", signed_text(*deg, 4)) : ""));
    };
    tilt(of_board ? "thicker along x" : "rises along x", f.tilt_x_mm_per_m, f.tilt_x_deg);
    tilt(of_board ? "thicker along y" : "rises along y", f.tilt_y_mm_per_m, f.tilt_y_deg);
    const auto add_length = [&](const char* name, double mm, const std::string& more) {
      add(name, signed_number(mm, 3),
          (words_.inch ? fmt::format("in ({} mm)", signed_text(mm, 3)) : "mm") + more);
    };
    const auto bend = [&](const char* axis, const std::optional<double>& crown) {
      if (crown)
        add_length(fmt::format("{} along {}", *crown < 0 ? "dip" : "crown", axis).c_str(), *crown,
                   ", middle against both ends");
    };
    bend("x", f.shape.crown_x_mm);
    bend("y", f.shape.crown_y_mm);
    if (f.shape.twist_mm)
      add_length("twist", *f.shape.twist_mm, ", two corners against the other two");
    if (f.shape.ridges)
      add("ridges", words_.number(f.shape.ridges->height_mm),
          fmt::format("{} high, {} apart along {}",
                      words_.inch ? fmt::format("in ({:.3f} mm)", f.shape.ridges->height_mm) : "mm",
                      words_.length(f.shape.ridges->apart_mm, 1),
                      f.shape.ridges->along_x ? "x" : "y"));
    for (const BedShape::Step& step : f.shape.steps)
      add_length("step", step.height_mm,
                 words_.sentence(fmt::format(" at {} {}", step.along_x ? "x" : "y",
                                             fixed_text(step.at_mm, 1))));
    for (const OffSurface& lone : f.shape.lone)
      add_length("alone", lone.height_mm,
                 fmt::format(" at {}, off all its neighbours", place(lone.at)));
    add_length(of_board ? "thickest" : "highest", f.highest.z, " at " + place(f.highest));
    add_length(of_board ? "thinnest" : "lowest", f.lowest.z, " at " + place(f.lowest));
    out_ += fmt::format("\n{}", text_table(table, width_));
  }

  void sag(const SagRow& row) {
    heading("Sag that no one measured, " + row.bed + ":");
    if (row.board)
      para(fmt::format("{} under the board ({} N, {}) after surfacing: this bends the bed as "
                       "the spindle sees it.",
                       words_.length(row.board->largest_mm), fixed_text(row.board_weight_n, 1),
                       row.load),
           "  - ");
    para(fmt::format("{} under its own weight: milled away when it was surfaced where it lies.",
                     words_.length(row.own.largest_mm)),
         "  - ");
  }

  void tram(const TramRow& row) {
    heading(fmt::format("The spindle is {} degrees out of tram:", fixed_text(row.lean_deg, 4)));
    if (!row.marks) {
      para("State --cutter and --stepover to see what a surfacing cut leaves.", "  - ");
      return;
    }
    para(fmt::format("leaning across the feed: ridges of {} between passes",
                     words_.length(row.marks->saw_tooth_mm, 4)),
         "  - ");
    para(fmt::format("leaning along the feed: a dish of {} in each pass, ridges of {}",
                     words_.length(row.marks->dish_mm, 4), words_.length(row.marks->cusp_mm, 4)),
         "  - ");
  }

  const BedReport& r_;
};

} // namespace

std::string bed_text(const BedReport& report, const TextOptions& options) {
  return Writer(report, options).text();
}

} // namespace leastwall
