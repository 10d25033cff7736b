#include "report/sheet/sheet_blocks.h"

#include "causes/model/cause_terms.h"
#include "report/sheet/drill_text.h"
#include "report/sheet/sheet_drawing.h"
#include "report/sheet/sheet_notices.h"
#include "report/sheet/sheet_text.h"
#include "report/words/advice_text.h"
#include "report/words/cause_text.h"
#include "report/words/length_text.h"
#include "report/words/number_text.h"
#include "report/words/pad_text.h"
#include "report/words/parts_text.h"
#include "report/words/verdict_text.h"
#include "report/words/wall_name.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <utility>

namespace leastwall {
namespace {

constexpr Ink kBody{11, false, Align::left, kBlack};
constexpr Ink kStrong{11, true, Align::left, kBlack};
constexpr Ink kSmall{9, false, Align::left, kBlack};

/// Of places that are numbered with their wall: which walls these are. Empty for one wall.
std::string walls_of_places(const CheckReport& report, std::size_t rows) {
  std::string out;
  std::vector<std::size_t> told;
  for (std::size_t i = 0; i < std::min(rows, report.wall.regions.size()); ++i) {
    const RegionRow& row = report.wall.regions[i];
    if (row.of_wall == 0 || row.of_wall > report.walls.size() ||
        std::ranges::find(told, row.of_wall) != told.end())
      continue;
    if (told.empty())
      out =
          fmt::format("{}: place {} of wall {}.", place_number(row, i), row.of_place, row.of_wall);
    told.push_back(row.of_wall);
    out += fmt::format(" Wall {}: {}.", row.of_wall, wall_name(report.walls[row.of_wall - 1]));
  }
  return out;
}

} // namespace

double SheetBlocks::heading(const std::string& words, double top) {
  paper.fill(left, top, width, 0.5, kBlack);
  return paper.paragraph(words, left, top + 1.2, width, {11, true, Align::left, kBlack}, 1) + 0.4;
}

double SheetBlocks::head(const std::string& letter, const std::string& words,
                         const std::string& page, double top) {
  const CheckReport& r = input.report;
  paper.fill(left, top, 24, 24, kBlack);
  paper.text(letter, left + 12, top + 20, {62, true, Align::centre, kWhite});
  const double x = left + 28, room = width - 28;
  paper.text(words, x, top + 8.6, paper.fitted(words, {26, true, Align::left, kBlack}, room));
  paper.paragraph(r.title, x, top + 10.6, room, {13, true, Align::left, kBlack}, 1);
  const std::string least = least_text(r, inch);
  // What was found stands in full in the box below.
  const std::string verdict = r.wall.verdict == Verdict::unproven
                                  ? verdict_headline(r).banner + ": no wall is proven."
                                  : headline_line(r) + ".";
  const std::string so_far = r.wall.verdict == Verdict::unproven ? "So far: " : "";
  double base = top + 19.8;
  for (const std::string& line : {verdict, fmt::format("{}{}. {}", so_far, least, page)}) {
    // A wall that does not hold is white on black, to be seen from afar.
    const bool loud = base < top + 20 && r.wall.verdict != Verdict::safe;
    const Ink below = paper.fitted(line, {11, loud, Align::left, loud ? kWhite : kBlack}, room - 2);
    if (loud)
      paper.fill(x, base - 3.8, room, 4.9, kBlack);
    paper.text(line, loud ? x + 1 : x, base, below);
    base += 4.7;
  }
  return top + kSheetHead;
}

double SheetBlocks::notices(const std::vector<Notice>& found, const NoticeRoom& room, double top) {
  if (found.empty())
    return top;
  constexpr double kBar = 6, kInset = 3;
  const double begin = top + 1;
  const std::string words = notices_heading(found);
  const Ink bar = paper.fitted(words, {12, true, Align::left, kWhite}, width - 2 * kInset);
  paper.fill(left, begin, width, kBar, kBlack);
  paper.text(words, left + kInset, begin + 4.4, bar);
  top = begin + kBar + 1;
  const std::size_t shown = std::min(room.most, found.size());
  for (std::size_t i = 0; i < shown; ++i) {
    paper.text("!", left + kInset, top + 3.9, kStrong);
    const std::string text =
        LengthText{inch}.sentence(room.brief ? first_sentence(found[i].text) + "." : found[i].text);
    top = paper.paragraph(text, left + kInset + 5, top, width - 2 * kInset - 5, kBody) + 0.6;
  }
  if (shown < found.size())
    top = paper.paragraph(fmt::format("And {} more: read the warnings of the report before you "
                                      "cut.",
                                      found.size() - shown),
                          left + kInset + 5, top, width - 2 * kInset - 5, kStrong) +
          0.6;
  paper.rectangle(left, begin, width, top + 0.6 - begin, {0.8, {}});
  return top + 2.6;
}

double SheetBlocks::help(double top) {
  const CheckReport& r = input.report;
  if (r.wall.verdict == Verdict::safe || r.wall.verdict == Verdict::unproven || r.advice.empty())
    return top;
  top = heading("BEFORE YOU CUT: WHAT WOULD HELP MOST", top);
  return paper.paragraph(advice_text(r.advice.front(), {inch}) +
                             ". Then check again and print this sheet anew.",
                         left, top, width, kStrong, 5) +
         1.6;
}

double SheetBlocks::order(const std::vector<SheetStep>& steps, double top) {
  top = heading("ORDER OF WORK", top);
  for (const SheetStep& step : steps) {
    paper.text(fmt::format("{}.", step.number), left, top + 3.9, kStrong);
    top = paper.paragraph(fmt::format("{}: {}.", face_text(step.side), step.cuts), left + 7, top,
                          width - 7, kStrong, 3);
    if (!step.then.empty())
      top = paper.paragraph(step.then, left + 7, top, width - 7, kBody, 3);
  }
  return top + 1.6;
}

double SheetBlocks::walls(double top) {
  const CheckReport& r = input.report;
  constexpr std::size_t kMost = 8;
  top = heading(inch ? "WALLS, WORST FIRST (inches)" : "WALLS, WORST FIRST (mm)", top);
  const LengthText words{inch};
  const double right[] = {width - 66, width - 44, width - 22, width};
  const auto row = [&](const std::string& name, const std::array<std::string, 4>& cells,
                       const Ink& ink) {
    paper.text(paper.shortened(name, ink, right[0] - 24), left, top + 3.9, ink);
    for (std::size_t i = 0; i < cells.size(); ++i) {
      Ink own = ink;
      own.align = Align::right;
      paper.text(cells[i], left + right[i], top + 3.9, own);
    }
    top += line_pitch(ink.size_pt);
  };
  row("", {"", "expected", "worst", "limit"}, kSmall);
  const std::vector<std::size_t> order = worst_first(r.walls);
  for (std::size_t i = 0; i < std::min(kMost, order.size()); ++i) {
    const NamedWall& named = r.walls[order[i]];
    const WallReport& wall = named.wall;
    row(fmt::format("{}  {}", order[i] + 1, wall_name(named)),
        {std::string(verdict_in_text(wall.verdict)),
         sheet_wall(wall.least_wall.expected_mm, wall.limit_mm, inch),
         sheet_wall(wall.least_wall.worst_mm, wall.limit_mm, inch), words.number(wall.limit_mm)},
        wall.verdict == Verdict::safe ? kBody : kStrong);
  }
  if (order.size() > kMost)
    top = paper.paragraph(fmt::format("and {} more, listed in the report", order.size() - kMost),
                          left, top, width, kSmall, 1);
  top =
      paper.paragraph("Walls and their thin places are numbered as in the report; the page of each "
                      "set-up has its places. At full size they are printed for a job of one wall "
                      "alone.",
                      left, top, width, kSmall, 2);
  return top + 1.6;
}

double SheetBlocks::seams(double top) {
  if (input.report.parts.seams.empty())
    return top;
  top = heading("SEAM, WHEN THE HALVES ARE GLUED", top);
  const LengthText words{inch};
  for (const SeamRow& seam : input.report.parts.seams)
    top = paper.paragraph(words.sentence(seam_sentences(seam).front()), left, top, width, kBody, 8);
  return top + 1.6;
}

double SheetBlocks::facts(Side side, double top) {
  const auto item = [&](const std::string& name, const std::string& words) {
    top = heading(name, top);
    top = paper.paragraph(words, left, top, width, kBody, 6) + 1.6;
  };
  if (input.step)
    item("CUT NOW", input.step->cuts + ".");
  if (const BoardMove move = board_move(input, side, inch); !move.text.empty())
    item(move.heading, move.text);
  item("EDGE TOWARDS YOU", edge_text(input, side, inch));
  item("Z ZERO", zero_text(input, side));
  const SideMarks marks = sheet_marks(input, side);
  top = board(marks, top);
  if (marks.touch_place != TouchPlace::good) {
    top = heading("TOUCH Z: NO PLACE TO TOUCH", top);
    return program(side, touch_impossible(marks, side_of(input.setup, side).zero, top));
  }
  top = heading(fmt::format("TOUCH Z AT ({})", inch ? "inches" : "mm"), top);
  const LengthText words{inch};
  const std::string place =
      fmt::format("X {}   Y {}", words.number(marks.touch.x, 2), words.number(marks.touch.y, 2));
  paper.text(place, left, top + 6.4, paper.fitted(place, {18, true, Align::left, kBlack}, width));
  top += line_pitch(18);
  if (inch) {
    paper.text(fmt::format("({} mm)", sheet_place(marks.touch, false, 2)), left, top + 3.9, kBody);
    top += line_pitch(11);
  }
  if (!marks.touch_stated)
    top = paper.paragraph(
        side_of(input.setup, side).zero == ZeroFrom::bed
            ? "Not stated: computed for the middle. Touch the bed beside the board."
            : "Not stated: computed for the middle. Touch where the face stays whole.",
        left, top, width, kStrong, 3);
  if (side_of(input.setup, side).zero == ZeroFrom::top)
    top = paper.paragraph("Keep this spot uncut: the next bit touches it, too.", left, top, width,
                          kBody, 2);
  return program(side, top + 1.6);
}

double SheetBlocks::board(const SideMarks& marks, double top) {
  const LengthText words{inch};
  const bool dowels = input.flip_stated && !marks.dowels.empty();
  top = heading(inch ? "BOARD, DOWELS (inches)" : "BOARD, DOWELS (mm)", top);
  const Footprint& shown = marks.board_stated ? marks.board : marks.part;
  const std::string size =
      fmt::format("{} along X, {} along Y.", words.length(shown.high.x - shown.low.x, 1),
                  words.length(shown.high.y - shown.low.y, 1));
  top = paper.paragraph(marks.board_stated
                            ? size
                            : "Board not stated. The broken line is the outline of the " +
                                  std::string(input.parts.size() > 1 ? "parts" : "piece") + ", " +
                                  size,
                        left, top, width, kBody, 4);
  for (const Point2& d : dowels ? marks.dowels : std::vector<Point2>()) {
    paper.text(fmt::format("Dowel at X {} Y {}", words.number(d.x, 2), words.number(d.y, 2)), left,
               top + 3.9, kBody);
    top += line_pitch(11);
  }
  if (dowels)
    top = paper.paragraph(input.dowel_hole_mm > 0
                              ? fmt::format("Holes of {}.", words.length(input.dowel_hole_mm, 2))
                              : "How wide their holes are is not stated.",
                          left, top, width, kBody, 2);
  if (dowels && !marks.board_stated && !input.setup.flip.dowels->middle)
    top = paper.paragraph("Where they stand is not stated: taken beside the middle of what is "
                          "carved. Make sure of it.",
                          left, top, width, kStrong, 3);
  return top + 1.6;
}

double SheetBlocks::touch_impossible(const SideMarks& marks, ZeroFrom zero, double top) {
  const auto [why, remedy] = no_touch_text(marks, zero);
  top = paper.paragraph(why, left, top, width, kStrong);
  return paper.paragraph(remedy, left, top, width, kBody) + 1.6;
}

double SheetBlocks::program(Side side, double top) {
  const std::vector<std::string> program = program_text(input, side, inch);
  if (!program.empty()) {
    top = heading("PROGRAM", top);
    for (const std::string& words : program)
      top = paper.paragraph(words, left, top, width, kBody, 4);
    top += 1.6;
  }
  if (input.step && !input.step->then.empty()) {
    top = heading("THEN", top);
    top = paper.paragraph(input.step->then, left, top, width, kBody, 5) + 1.6;
  }
  return top;
}

double SheetBlocks::bits(Side side, double top) {
  top = heading("BITS, IN THIS ORDER", top);
  int number = 0;
  std::vector<std::string> bits = bit_text(input, side, inch);
  for (std::string& drill : drill_text(input, side, inch))
    bits.push_back(std::move(drill));
  for (const std::string& words : bits) {
    paper.text(std::to_string(++number) + ".", left, top + 3.9, kStrong);
    top = paper.paragraph(words, left + 7, top, width - 7, kBody, 4);
  }
  return top + 1.6;
}

double SheetBlocks::checks(Side side, double top) {
  top = heading("CHECK AND WRITE DOWN", top);
  constexpr double kRow = 7.2;
  for (const CheckLine& line : check_lines(input, side, inch)) {
    const double base = top + 5.4;
    const bool wide = line.stated.empty();
    const auto words = paper.wrapped(line.what, wide ? width - 50 : width - 104, kBody, 1);
    paper.text(words.empty() ? "" : words.front(), left, base, kBody);
    const auto stated = paper.wrapped(line.stated, 57, kSmall, 1);
    if (!stated.empty())
      paper.text(stated.front(), left + width - 46, base, {9, false, Align::right, kBlack});
    if (line.words) {
      paper.line({{left + 60, base + 1}, {left + width, base + 1}}, {0.4, {}});
    } else if (line.tick) {
      paper.rectangle(left + width - 6, top + 1, 6, 6, {0.5, {}});
    } else {
      paper.line({{left + width - 42, base + 1}, {left + width - 9, base + 1}}, {0.4, {}});
      paper.text(inch ? "in" : "mm", left + width, base, {11, false, Align::right, kBlack});
    }
    top += kRow;
  }
  return top + 1.6;
}

double SheetBlocks::pad(Side side, double top) {
  if (!input.report.pad)
    return top;
  const PadRow& pad = *input.report.pad;
  if (const std::string why = pad_not_cut(pad); !why.empty()) {
    top = heading("NO WITNESS PAD", top);
    return paper.paragraph(why, left, top, width, kBody) + 1.6;
  }
  const Point2 at = side_place(input.setup.flip, side, Point2{pad.x_mm, pad.y_mm});
  const std::string place = sheet_place(at, inch);
  if (side == Side::a) {
    top = heading("WITNESS PAD, IN THE WASTE", top);
    return paper.paragraph(
               fmt::format("Cut a flat pad, {0} square, its middle at {1}, with this program: "
                           "floor {2} under the pocket face. Side B will leave it {3} thick.",
                           sheet_length(pad.size_mm, inch, 0), place,
                           sheet_length(input.report.top_z_mm - pad.floor_z_mm, inch, 3),
                           sheet_length(pad.design_mm, inch, 3)),
               left, top, width, kBody, 3) +
           1.6;
  }
  top = heading("WITNESS PAD: STOP BEFORE THE SKIN IS FINISHED, MEASURE, SHIFT", top);
  std::string words = fmt::format(
      "Cut its skin at {}, {} above the pocket face that now lies on the bed. Measure it. ", place,
      sheet_length(input.report.top_z_mm - pad.skin_z_mm, inch, 3));
  if (pad.expected_mm > 0)
    words += fmt::format("It should read {}. Under {} or over {} something else is wrong: stop and "
                         "search.",
                         sheet_length(pad.expected_mm, inch, 3),
                         sheet_length(std::max(pad.low_mm, 0.0), inch, 3),
                         sheet_length(pad.high_mm, inch, 3));
  else
    words += fmt::format("As things stand the bit goes {} through it: find out why before you cut.",
                         sheet_length(-pad.expected_mm, inch, 3));
  top = paper.paragraph(words, left, top, width, kBody, 4);
  const double y = top + 7.5;
  const Ink sum{15, true, Align::left, kBlack};
  double x = left;
  const auto put = [&](const std::string& text) {
    paper.text(text, x, y, sum);
    x += paper.text_width(text, sum) + 2;
  };
  const LengthText length{inch};
  put(fmt::format("Z shift = {} -", length.number(pad.design_mm)));
  paper.line({{x, y + 1}, {x + 34, y + 1}}, {0.5, {}});
  paper.text("reading", x + 17, y + 4.2, {9, false, Align::centre, kBlack});
  x += 36;
  put("=");
  paper.line({{x, y + 1}, {x + 34, y + 1}}, {0.5, {}});
  paper.text(inch ? "type in, inches" : "type in, mm", x + 17, y + 4.2,
             {9, false, Align::centre, kBlack});
  x += 37;
  paper.paragraph("plus: bit higher, wall thicker", x, y - 6, left + width - x, kSmall, 2);
  if (inch)
    paper.text(fmt::format("in inches ({} mm)", fixed_text(pad.design_mm, 3)), left, y + 4.2,
               kSmall);
  top = y + 5.6;
  if (needs_no_shift(pad))
    top = paper.paragraph(fmt::format("Already measured: {}, as drawn. No Z shift is needed.",
                                      length.length(*pad.reading_mm)),
                          left, top, width, kStrong, 1);
  else if (pad.reading_mm && pad.shift_mm)
    top = paper.paragraph(fmt::format("Already measured: {}. Type in {}.",
                                      length.length(*pad.reading_mm), length.change(*pad.shift_mm)),
                          left, top, width, kStrong, 1);
  else if (pad.reading_mm)
    top = paper.paragraph(fmt::format("Already measured: {}, which the stated errors cannot "
                                      "explain. Type in nothing; find what is wrong.",
                                      sheet_length(*pad.reading_mm, inch, 3)),
                          left, top, width, kStrong, 2);
  return top + 1.6;
}

double SheetBlocks::places(Side side, std::size_t rows, double top) {
  const CheckReport& r = input.report;
  top = heading(inch ? "THINNEST PLACES, AS NUMBERED IN THE DRAWING (inches, mm in brackets)"
                     : "THINNEST PLACES, AS NUMBERED IN THE DRAWING (walls in mm)",
                top);
  if (r.wall.regions.empty())
    return paper.paragraph(input.step ? "No wall of this set-up can end under the limit "
                                        "with the errors stated."
                                      : "No wall can end under the limit with the errors stated.",
                           left, top, width, kBody, 2) +
           1.6;
  const std::array<double, 6> right{r.wall.regions.front().of_wall > 0 ? 13.0 : 8.0,
                                    inch ? 40.0 : 30.0,
                                    inch ? 72.0 : 52.0,
                                    inch ? 110.0 : 76.0,
                                    inch ? 144.0 : 96.0,
                                    0};
  const auto cell = [&](std::size_t column, const std::string& text, const Ink& ink) {
    Ink own = ink;
    own.align = Align::right;
    paper.text(text, left + right[column], top + 3.9, own);
  };
  const auto cause_left = right[4] + 6;
  const auto axis = [&](double mm) {
    return inch ? fmt::format("{} ({})", LengthText{true}.number(mm, 1), fixed_text(mm, 1))
                : fixed_text(mm, 1);
  };
  const auto wall = [&](double mm) {
    const std::string shown = sheet_wall(mm, r.wall.limit_mm, inch);
    return inch && mm > 0 ? fmt::format("{} ({})", shown, wall_text(mm, r.wall.limit_mm)) : shown;
  };
  const std::array<const char*, 5> names{"no.", "X", "Y", "expected", "worst"};
  for (std::size_t i = 0; i < names.size(); ++i)
    cell(i, names[i], kSmall);
  paper.text("mostly by", left + cause_left, top + 3.9, kSmall);
  top += line_pitch(11);
  for (std::size_t i = 0; i < std::min(rows, r.wall.regions.size()); ++i) {
    const RegionRow& row = r.wall.regions[i];
    const Point2 at = side_place(input.setup.flip, side, Point2{row.at.x, row.at.y});
    cell(0, place_number(row, i), kStrong);
    cell(1, axis(at.x), kBody);
    cell(2, axis(at.y), kBody);
    cell(3, wall(row.least_wall_mm), kStrong);
    cell(4, wall(row.worst_mm), kBody);
    const Ink& ink = inch ? kSmall : kBody; // less room
    const auto cause =
        paper.wrapped(row.worst_cause ? cause_text_short(*row.worst_cause) : std::string(),
                      width - cause_left, ink, 1);
    if (!cause.empty())
      paper.text(cause.front(), left + cause_left, top + 3.9, ink);
    top += line_pitch(11);
  }
  if (rows < r.wall.regions.size())
    top = paper.paragraph(
        fmt::format("and {} more, listed in the report", r.wall.regions.size() - rows), left, top,
        width, kSmall, 1);
  if (const std::string walls = walls_of_places(r, rows); !walls.empty())
    top = paper.paragraph(walls, left, top, width, kSmall, 3);
  return top + 1.6;
}

double SheetBlocks::cautions(double top) {
  paper.fill(left, top, width, 0.5, kBlack);
  top += 1.2;
  for (const std::string& words : caution_text())
    top = paper.paragraph(words, left, top, width, kSmall, 4);
  if (const std::size_t n = mesh_remarks(input.report); n > 0)
    top = paper.paragraph(fmt::format("The report has {} more {} about the mesh files.", n,
                                      n == 1 ? "remark" : "remarks"),
                          left, top, width, kSmall, 1);
  return top;
}

} // namespace leastwall
