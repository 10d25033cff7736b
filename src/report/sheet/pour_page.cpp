#include "report/sheet/pour_page.h"

#include "report/sheet/sheet_blocks.h"
#include "report/words/amount_text.h"
#include "report/words/length_text.h"
#include "report/words/pour_words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <fmt/format.h>
#include <utility>

namespace leastwall {
namespace {

constexpr Ink kBody{11, false, Align::left, kBlack};
constexpr Ink kStrong{11, true, Align::left, kBlack};
constexpr Ink kSmall{9, false, Align::left, kBlack};
constexpr double kMostDrawing = 62, kRow = 7.2; // mm
constexpr double kFoot = 9;
constexpr double kMinZoom = 0.62;

/// The row with the parts of one board alone.
PourRow of_board(PourRow row, std::uint32_t board) {
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < row.on_board.size(); ++i)
    if (row.on_board[i].board == board)
      parts.push_back(row.name.parts[i]);
  row.name.parts = std::move(parts);
  std::erase_if(row.on_board,
                [board](const PourRow::OnBoard& part) { return part.board != board; });
  return row;
}

/// Without its clock, which is that of the first board.
PourReport without_start(PourReport report) {
  report.start.reset();
  return report;
}

class Page {
 public:
  Page(SheetPaper& paper, const Pour& pour, const PouredHere& here, bool inch)
      : paper_(paper), several_(here.step != nullptr && here.step->boards > 1),
        board_(several_ ? here.step->board : 0),
        report_(board_ > 0 ? without_start(pour.report) : pour.report),
        row_(several_ ? of_board(pour.report.rows[here.row], board_) : pour.report.rows[here.row]),
        drawing_(pour.drawings[here.row]), number_(here.row + 1), inch_(inch) {
    left_ = kSheetMargin;
    width_ = paper.width() - 2 * kSheetMargin;
  }

  /// Returns the lower edge.
  double draw(const std::string& page) {
    double y = head(page, kSheetMargin);
    y = section(y + 1);
    y = facts(y);
    y = lifts(y);
    y = checks(y);
    y = care(y);
    return cautions(y);
  }

 private:
  double heading(const std::string& words, double top) {
    paper_.fill(left_, top, width_, 0.5, kBlack);
    return paper_.paragraph(words, left_, top + 1.2, width_, kStrong, 1) + 0.4;
  }

  double head(const std::string& page, double top) {
    paper_.fill(left_, top, 24, 24, kBlack);
    paper_.text("R", left_ + 12, top + 20, {62, true, Align::centre, kWhite});
    const double x = left_ + 28, room = width_ - 28;
    const std::string words =
        several_ ? fmt::format("BOARD {}, RESIN {} OF {}: POUR, LET IT CURE", board_ + 1, number_,
                               report_.rows.size())
                 : fmt::format("RESIN {} OF {}: POUR, LET IT CURE", number_, report_.rows.size());
    paper_.text(words, x, top + 8.6, paper_.fitted(words, {26, true, Align::left, kBlack}, room));
    paper_.paragraph(pour_title(row_), x, top + 10.6, room, {13, true, Align::left, kBlack}, 1);
    paper_.paragraph(report_.title, x, top + 15.8, room, kBody, 1);
    paper_.text(page, x, top + 24.2, kBody);
    return top + kSheetHead;
  }

  /// The pocket in section, its levels numbered on the right.
  double section(double top) {
    const PourSection& s = drawing_.section;
    if (s.pocket.empty())
      return top;
    constexpr double kLabels = 62;
    const SectionBox box = shown_box(s, 0.12);
    const double wide = std::max(1e-6, box.high.along_mm - box.low.along_mm),
                 deep = std::max(1e-6, s.face_z_mm - box.low.z_mm);
    const double scale = std::min((width_ - kLabels - 10) / wide, kMostDrawing / deep);
    const double from = left_ + (width_ - kLabels - wide * scale) / 2;
    const auto x = [&](double along) { return from + (along - box.low.along_mm) * scale; };
    const auto y = [&](double z) { return top + 3 + (s.face_z_mm - z) * scale; };
    const auto pieces = [&](const SectionPieces& lines, const Stroke& stroke) {
      for (const auto& [a, b] : lines)
        paper_.line({{x(a.along_mm), y(a.z_mm)}, {x(b.along_mm), y(b.z_mm)}}, stroke);
    };
    const double height = deep * scale + 6;
    paper_.clip(left_, top, width_ - kLabels + 6, height);
    pieces(s.skin, {0.25, {}});
    pieces(s.around, {0.25, {}});
    pieces(s.later, {0.25, {1, 1}});
    paper_.unclip();
    pieces(s.pocket, {0.6, {}});
    paper_.line({{left_, y(s.face_z_mm)}, {left_ + width_ - kLabels, y(s.face_z_mm)}}, {0.6, {}});
    const std::size_t n = row_.lifts.size();
    const double pitch = 4.6;
    const std::size_t step =
        std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(static_cast<double>(n) * pitch /
                                                                    std::max(pitch, height + 8))));
    double last = top - pitch;
    for (std::size_t i = n; i-- > 0;) {
      const PourLift& lift = row_.lifts[i];
      const double z = s.face_z_mm - lift.under_face_mm;
      double right = left_ + width_ - kLabels - 6;
      if (lift.under_face_mm > 0)
        for (const auto& [a, b] : air_at(s.pocket, z)) {
          paper_.line({{x(a), y(z)}, {x(b), y(z)}}, {0.3, {2, 1}});
          right = x(b);
        }
      if ((n - 1 - i) % step != 0)
        continue;
      const double at = std::max(last + pitch, y(z) + 1.3);
      last = at;
      const double label = left_ + width_ - kLabels + 6;
      paper_.line({{right, y(z)}, {label - 6, y(z)}, {label - 1, at - 1.3}}, {0.2, {}});
      paper_.text(fmt::format("{}  {}", i + 1, fill_to(lift, inch_)), label, at, kSmall);
    }
    return std::max(top + height, last + 3) + 1;
  }

  double facts(double top) {
    top = heading("HOW MUCH", top);
    std::vector<std::string> words = volume_sentences(row_, inch_);
    for (std::string& one : mix_sentences(row_, inch_))
      words.push_back(std::move(one));
    top = paper_.paragraph(one_paragraph(words), left_, top, width_, kBody, 8);
    if (const std::string asked = asked_sentence(row_); !asked.empty())
      top = paper_.paragraph(asked, left_, top, width_, kStrong, 3);
    return top + 1.6;
  }

  /// A row each, with a blank for when it was poured.
  double lifts(double top) {
    top =
        heading(fmt::format("LIFTS, FILLED TO SO MANY {} UNDER THE FACE{}", inch_ ? "INCHES" : "mm",
                            row_.count() > 1 ? fmt::format(", FOR EACH OF {}", row_.count())
                                             : std::string()),
                top);
    const std::array<double, 7> right{8, 25, 43, 61, 79, 97, 115};
    const std::array<const char*, 7> names{"lift", "fill to", "mix ml", "A ml",
                                           "B ml", "A g",     "B g"};
    const auto cell = [&](std::size_t c, const std::string& words, const Ink& ink) {
      Ink own = ink;
      own.align = Align::right;
      paper_.text(words, left_ + right[c], top + 4.8, own);
    };
    const double when = left_ + 120, blank = left_ + width_ - 32;
    for (std::size_t c = 0; c < names.size(); ++c)
      cell(c, names[c], kSmall);
    paper_.text("planned", when, top + 4.8, kSmall);
    paper_.text("poured (day, time)", blank, top + 4.8, kSmall);
    top += 5.6;
    const auto row = [&](const std::string& name, const std::string& level, double mix,
                         const Amounts& a, const std::string& planned) {
      cell(0, name, kStrong);
      cell(1, level, kStrong);
      cell(2, mix > 0 ? ml_number(mix) : "", kBody);
      cell(3, ml_number(a.a_mm3), kBody);
      cell(4, ml_number(a.b_mm3), kBody);
      cell(5, gram_number(a.a_g), kBody);
      cell(6, gram_number(a.b_g), kBody);
      paper_.text(planned, when, top + 4.8, kSmall);
      paper_.line({{blank, top + 5.8}, {left_ + width_, top + 5.8}}, {0.4, {}});
      top += kRow;
    };
    constexpr std::size_t kMostRows = 14;
    if (row_.lifts.empty())
      row("all", "face", row_.mix_mm3, row_.amounts, "");
    for (std::size_t i = 0; i < std::min(kMostRows, row_.lifts.size()); ++i) {
      const PourLift& lift = row_.lifts[i];
      row(std::to_string(i + 1),
          lift.under_face_mm > 0 ? LengthText{inch_}.number(lift.under_face_mm, 1) : "face",
          lift.mix_mm3, lift.amounts, pour_when(report_, lift.after_h));
    }
    if (row_.lifts.size() > kMostRows)
      top = paper_.paragraph(
          fmt::format("and {} more: `leastwall pour` lists them", row_.lifts.size() - kMostRows),
          left_, top, width_, kSmall, 1);
    const std::string cut =
        several_ ? cut_sentence(report_, row_, "on this board") : cut_sentence(report_, row_);
    if (!cut.empty())
      top = paper_.paragraph(cut, left_, top, width_, kStrong, 2);
    if (several_)
      top = paper_.paragraph("Hours are counted from the first lift on this board.", left_, top,
                             width_, kBody, 2);
    return top + 1.6;
  }

  double checks(double top) {
    top = heading("CHECK AND WRITE DOWN", top);
    const auto line = [&](const std::string& words, const std::string& unit) {
      paper_.text(words, left_, top + 5.4, kBody);
      if (unit.empty()) {
        paper_.rectangle(left_ + width_ - 6, top + 1, 6, 6, {0.5, {}});
      } else {
        paper_.line({{left_ + width_ - 52, top + 6.4}, {left_ + width_ - 14, top + 6.4}},
                    {0.4, {}});
        paper_.text(unit, left_ + width_, top + 5.4, {11, false, Align::right, kBlack});
      }
      top += kRow;
    };
    line("Data sheet and safety data sheet read; gloves on, room ventilated", "");
    line("Board off level: measured on the board, both ways", inch_ ? "in/ft" : "mm/m");
    line("Temperature of the room and the resin when poured", "\u00b0C");
    line("Resin under (-) or over (+) the face when cured", inch_ ? "in" : "mm");
    return top + 1.6;
  }

  double care(double top) {
    std::vector<std::string> words = care_sentences(row_, inch_);
    if (report_.tilt)
      for (std::string& one : tilt_sentences(row_, *report_.tilt, inch_))
        words.push_back(std::move(one));
    for (const PourWarning& w : report_.warnings)
      if (w.row + 1 == number_)
        words.push_back(LengthText{inch_}.sentence(warning_sentence(report_, w)));
    if (words.empty())
      return top;
    top = heading("MIND", top);
    for (const std::string& one : words) {
      paper_.text("!", left_, top + 3.9, kStrong);
      top = paper_.paragraph(one, left_ + 5, top, width_ - 5, kBody, 5) + 0.4;
    }
    return top + 1.2;
  }

  double cautions(double top) {
    paper_.fill(left_, top, width_, 0.5, kBlack);
    top += 1.2;
    for (const std::string& words : pour_cautions())
      top = paper_.paragraph(words, left_, top, width_, kSmall, 4);
    return paper_.paragraph("Advice computed from the numbers given, never a guarantee.", left_,
                            top, width_, kSmall, 1);
  }

  SheetPaper& paper_;
  bool several_;        ///< boards
  std::uint32_t board_; ///< that is poured here
  const PourReport report_;
  const PourRow row_;
  const PourDrawing& drawing_;
  std::size_t number_;
  bool inch_;
  double left_ = 0, width_ = 0;
};

} // namespace

void draw_pour_page(SheetPaper& paper, const Pour& pour, const PouredHere& here,
                    const std::string& page, bool inch) {
  double zoom = 1;
  // A page with much to say is drawn a little smaller, as a whole.
  for (; zoom > kMinZoom; zoom *= 0.96) {
    SheetPaper scratch(paper.size(), "", SheetFile::nothing);
    scratch.zoom(zoom);
    const double below = Page(scratch, pour, here, inch).draw(page);
    if (below <= scratch.height() - kFoot)
      break;
  }
  paper.zoom(zoom);
  Page(paper, pour, here, inch).draw(page);
}

} // namespace leastwall
