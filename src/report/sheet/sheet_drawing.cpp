#include "report/sheet/sheet_drawing.h"

#include "base/maths/angles.h"
#include "base/maths/hypot.h"
#include "report/words/wall_name.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace leastwall {
namespace {

LabelBox around(PicturePoint p, double half) {
  return {p.x - half, p.y - half, p.x + half, p.y + half};
}

void keep_line_clear(LabelPlaces& labels, PicturePoint a, PicturePoint b) {
  constexpr int kSteps = 60;
  for (int i = 0; i <= kSteps; ++i) {
    const double f = static_cast<double>(i) / kSteps;
    labels.keep_clear(around({a.x + f * (b.x - a.x), a.y + f * (b.y - a.y)}, 0.6));
  }
}

void outline(SheetPaper& paper, const PaperFrame& frame, const Footprint& f, const Stroke& stroke) {
  const PicturePoint a = frame.on(f.low), b = frame.on(f.high);
  paper.rectangle(a.x, b.y, b.x - a.x, a.y - b.y, stroke);
}

void label(SheetPaper& paper, const std::string& name, PicturePoint at, LabelPlaces& labels,
           double size_pt, double gap, bool bold, double first_deg = 0) {
  constexpr double kLongest = 34; // mm: a fifth of the drawing
  const LabelBox& frame = labels.frame();
  if (at.x < frame.left || at.x > frame.right || at.y < frame.top || at.y > frame.bottom)
    return;
  const Ink ink{size_pt, bold, Align::left, kBlack};
  const std::string text = paper.shortened(name, ink, kLongest);
  const double height = size_pt * 0.3528;
  const LabelBox box =
      labels.place(at, paper.text_width(text, ink) + 2.4, height + 0.6, gap, first_deg);
  const PicturePoint near{std::clamp(at.x, box.left, box.right),
                          std::clamp(at.y, box.top, box.bottom)};
  if (maths::hypot(near.x - at.x, near.y - at.y) > gap + 0.6)
    paper.line({at, near}, {0.25, {}});
  paper.fill(box.left, box.top, box.right - box.left, box.bottom - box.top, kWhite);
  paper.text(text, box.left + 1.2, box.bottom - 0.6 - 0.12 * height, ink);
}

/// Who stands where: a bar along the near edge.
void you_stand_here(SheetPaper& paper, const LabelBox& room) {
  const double middle = (room.left + room.right) / 2;
  const Ink ink{10, true, Align::centre, kWhite};
  paper.fill(room.left, room.bottom - 6, room.right - room.left, 6, kBlack);
  paper.text("YOU STAND HERE", middle, room.bottom - 1.6, ink);
}

void arrow(SheetPaper& paper, PicturePoint from, double dx, double dy) {
  const PicturePoint tip{from.x + 9 * dx, from.y + 9 * dy};
  paper.line({from, {from.x + 7 * dx, from.y + 7 * dy}}, {0.5, {}});
  paper.polygon({tip,
                 {tip.x - 3 * dx + 1.3 * dy, tip.y - 3 * dy - 1.3 * dx},
                 {tip.x - 3 * dx - 1.3 * dy, tip.y - 3 * dy + 1.3 * dx}},
                kBlack);
}

/// The largest round scale that is not over `most`.
double round_scale(double most) {
  if (most >= 1)
    return std::floor(most);
  double power = 1;
  while (most * power < 0.1 && power < 1e12)
    power *= 10;
  for (const double parts : {1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0})
    if (1 / (parts * power) <= most)
      return 1 / (parts * power);
  return 1 / (10 * power);
}

constexpr double kBitLength = 4.6, kBitHalf = 2.2; // of the bit drawn at the touch point, mm

/// What the bit covers that stands on `at`; `way`: from its point up the bit, of length 1.
LabelBox bit_box(PicturePoint at, PicturePoint way) {
  const double x = at.x + kBitLength / 2 * way.x, y = at.y + kBitLength / 2 * way.y;
  const double along = kBitLength / 2 + 0.2, across = kBitHalf + 0.2;
  const double w = std::abs(way.x) > 0.5 ? along : across, h = along + across - w;
  return {x - w, y - h, x + w, y + h};
}

/// Whether X 0, Y 0 of the program lies on the drawing.
bool zero_in(const SideMarks& marks) {
  const Footprint all = marks.all();
  return all.low.x <= 0 && 0 <= all.high.x && all.low.y <= 0 && 0 <= all.high.y;
}

/// Parts of a job that has several, and what is drilled.
void draw_parts(SheetPaper& paper, const SetupSheetInput& input, Side side, const PaperFrame& frame,
                LabelPlaces& labels) {
  for (const PartMark& part : input.parts) {
    const Footprint box = side_place(input.setup.flip, side, part.box);
    outline(paper, frame, box, {0.3, {1.2, 1.2}});
    const PicturePoint corner = frame.on({box.low.x, box.high.y});
    const Ink ink{9, false, Align::left, kBlack};
    const double inside = (box.high.x - box.low.x) * frame.scale;
    const std::string name = paper.shortened(part.name, ink, std::max(inside - 3, 16.0));
    const double width = paper.text_width(name, ink);
    paper.fill(corner.x + 1, corner.y + 0.8, width + 1, 4.2, kWhite);
    paper.text(name, corner.x + 1.5, corner.y + 4.2, ink);
    labels.keep_clear({corner.x + 1, corner.y + 0.5, corner.x + 2 + width, corner.y + 5});
  }
  for (const HoleMark& hole : input.holes) {
    const PicturePoint p = frame.on(side_place(input.setup.flip, side, hole.at));
    paper.disc(p.x, p.y, std::max(0.8, hole.diameter_mm / 2 * frame.scale), kWhite, 0.4);
    labels.keep_clear(around(p, 1.2));
  }
  for (const HoleMark& hole : input.holes)
    label(paper, hole.name, frame.on(side_place(input.setup.flip, side, hole.at)), labels, 8, 1.6,
          false);
}

} // namespace

PicturePoint bit_way(const PaperFrame& frame, const SideMarks& marks) {
  constexpr double kDowel = 2.8; // half the cross that marks it
  for (const PicturePoint way : {PicturePoint{0, -1}, {1, 0}, {-1, 0}, {0, 1}}) {
    const LabelBox box = bit_box(frame.on(marks.touch), way);
    if (std::ranges::none_of(marks.dowels, [&](const Point2& dowel) {
          const PicturePoint d = frame.on(dowel);
          return d.x > box.left - kDowel && d.x < box.right + kDowel && d.y > box.top - kDowel &&
                 d.y < box.bottom + kDowel;
        }))
      return way;
  }
  return {0, -1};
}

SideMarks sheet_marks(const SetupSheetInput& input, Side side) {
  std::vector<std::size_t> of_parts;
  for (const PartMark& part : input.parts)
    of_parts.push_back(part.samples);
  SideMarks marks =
      side_marks(input.setup, input.report.box, side,
                 input.skin != nullptr ? std::span<const WallSample>(input.skin->samples)
                                       : std::span<const WallSample>(),
                 of_parts);
  marks.board_stated = marks.board_stated && input.board_stated;
  if (const auto& pad = input.report.pad; pad && pad->use == PadUse::cut) {
    const double half = pad->size_mm / 2;
    marks.pad = side_place(
        input.setup.flip, side,
        Footprint{{pad->x_mm - half, pad->y_mm - half}, {pad->x_mm + half, pad->y_mm + half}});
  }
  return marks;
}

void draw_marks(SheetPaper& paper, const PaperFrame& frame, const SideMarks& marks,
                LabelPlaces& labels, bool one_piece) {
  if (marks.board_stated)
    outline(paper, frame, marks.board, {0.7, {}});
  if (one_piece)
    outline(paper, frame, marks.part, {0.3, {1.2, 1.2}});
  const PicturePoint from = frame.on(marks.flip_from), to = frame.on(marks.flip_to);
  paper.line({from, to}, {0.4, {6, 1.2, 0.8, 1.2}});
  keep_line_clear(labels, from, to);
  for (const Footprint& f : {marks.board, marks.part}) {
    const PicturePoint a = frame.on(f.low), b = frame.on(f.high);
    keep_line_clear(labels, a, {b.x, a.y});
    keep_line_clear(labels, {a.x, b.y}, b);
    keep_line_clear(labels, a, {a.x, b.y});
    keep_line_clear(labels, {b.x, a.y}, b);
  }
  for (const Point2 d : marks.dowels) {
    const PicturePoint p = frame.on(d);
    paper.disc(p.x, p.y, 1.8, kWhite, 0.6);
    paper.line({{p.x - 2.8, p.y}, {p.x + 2.8, p.y}}, {0.3, {}});
    paper.line({{p.x, p.y - 2.8}, {p.x, p.y + 2.8}}, {0.3, {}});
    labels.keep_clear(around(p, 2.4));
  }
  if (zero_in(marks)) {
    const PicturePoint o = frame.on({});
    paper.line({{o.x - 2.5, o.y}, {o.x + 2.5, o.y}}, {0.5, {}});
    paper.line({{o.x, o.y - 2.5}, {o.x, o.y + 2.5}}, {0.5, {}});
    labels.keep_clear(around(o, 1.8));
  }
  if (marks.pad) {
    outline(paper, frame, *marks.pad, {0.5, {}});
    const PicturePoint a = frame.on(marks.pad->low), b = frame.on(marks.pad->high);
    labels.keep_clear({a.x, b.y, b.x, a.y});
  }
  if (marks.touch_place != TouchPlace::good)
    return;
  const PicturePoint t = frame.on(marks.touch), way = bit_way(frame, marks);
  const PicturePoint end{t.x + kBitLength * way.x, t.y + kBitLength * way.y};
  const PicturePoint half{kBitHalf * way.y, kBitHalf * way.x};
  paper.polygon({t, {end.x - half.x, end.y - half.y}, {end.x + half.x, end.y + half.y}}, kBlack);
  labels.keep_clear(bit_box(t, way));
}

void name_marks(SheetPaper& paper, const PaperFrame& frame, const SideMarks& marks,
                bool flip_stated, LabelPlaces& labels, bool one_piece) {
  if (marks.touch_place == TouchPlace::good) {
    const PicturePoint touch = frame.on(marks.touch), way = bit_way(frame, marks);
    label(paper, marks.touch_stated ? "TOUCH Z" : "TOUCH Z ?",
          {touch.x + 2.6 * way.x, touch.y + 2.6 * way.y}, labels, 10, 2.6, true,
          maths::atan2(way.y, way.x) * 180 / std::numbers::pi);
  }
  if (marks.pad) {
    const PicturePoint a = frame.on(marks.pad->low), b = frame.on(marks.pad->high);
    const PicturePoint middle{(a.x + b.x) / 2, (a.y + b.y) / 2};
    constexpr double kRoomForWord = 8; // mm of paper
    if (b.x - a.x >= kRoomForWord)
      paper.text("pad", middle.x, middle.y + 1.1, {9, false, Align::centre, kBlack});
    else
      label(paper, "pad", middle, labels, 9, (a.y - b.y) / 2 + 0.6, false, 90);
  }
  for (const Point2& d : marks.dowels)
    label(paper, "dowel", frame.on(d), labels, 9, 3, false);
  if (zero_in(marks))
    label(paper, "0, 0", frame.on({}), labels, 9, 2, false);
  // The line may run off the drawing: then its name stands at the rim.
  const LabelBox& rim = labels.frame();
  const PicturePoint end = frame.on(marks.flip_to), begin = frame.on(marks.flip_from);
  PicturePoint to{std::min(end.x, rim.right), std::max(end.y, rim.top)};
  if (begin.y == end.y)
    to.x = std::max(to.x, rim.left);
  label(paper, flip_stated ? "flip line" : "flip line ?", to, labels, 9, 1.5, false);
  if (one_piece)
    label(paper, "piece", frame.on({marks.part.high.x, marks.part.low.y}), labels, 9, 1.5, false,
          -135);
}

void name_place(SheetPaper& paper, const std::string& number, const std::string& wall,
                PicturePoint at, LabelPlaces& labels) {
  const Ink strong{12, true, Align::left, kWhite}, plain{11, false, Align::left, kBlack};
  const double tag = paper.text_width(number, strong) + 2.4;
  const double width = tag + paper.text_width(wall, plain) + 2.6, height = 6;
  const LabelBox box = labels.place(at, width, height, 4);
  const PicturePoint near{std::clamp(at.x, box.left, box.right),
                          std::clamp(at.y, box.top, box.bottom)};
  paper.line({at, near}, {0.3, {}});
  paper.fill(box.left, box.top, width, height, kWhite);
  paper.fill(box.left, box.top, tag, height, kBlack);
  paper.rectangle(box.left, box.top, width, height, {0.4, {}});
  paper.text(number, box.left + 1.2, box.bottom - 1.5, strong);
  paper.text(wall, box.left + tag + 1.2, box.bottom - 1.6, plain);
}

void draw_board(SheetPaper& paper, const SetupSheetInput& input, Side side, const LabelBox& room,
                std::size_t numbered) {
  you_stand_here(paper, room);
  const SideMarks marks = sheet_marks(input, side);
  const Footprint all = marks.all();
  const double w = room.right - room.left - 18, h = room.bottom - room.top - 24;
  const double most = std::min(w / std::max(all.high.x - all.low.x, 1e-6),
                               h / std::max(all.high.y - all.low.y, 1e-6));
  const double on_paper = round_scale(most * paper.zoomed()), scale = on_paper / paper.zoomed();
  PaperFrame frame;
  frame.scale = scale;
  frame.low = all.low;
  frame.left = (room.left + 9 + room.right - 9) / 2 - scale * (all.high.x - all.low.x) / 2;
  frame.bottom = (room.top + 7 + room.bottom - 17) / 2 + scale * (all.high.y - all.low.y) / 2;
  LabelPlaces labels({room.left, room.top, room.right, room.bottom - 12});

  arrow(paper, {room.left + 2, room.bottom - 8.5}, 1, 0);
  paper.text("X", room.left + 12, room.bottom - 7.4, {9, true, Align::left, kBlack});
  arrow(paper, {room.left + 2, room.bottom - 8.5}, 0, -1);
  paper.text("Y", room.left + 3.6, room.bottom - 15.4, {9, true, Align::left, kBlack});
  labels.keep_clear({room.left, room.bottom - 20, room.left + 8, room.bottom});
  paper.text(on_paper >= 1 ? fmt::format("drawn {:g} : 1", on_paper)
                           : fmt::format("drawn 1 : {:g}", 1 / on_paper),
             room.right, room.bottom - 7.6, {9, false, Align::right, kBlack});

  const SheetLines none;
  for (const auto& line : (input.lines ? *input.lines : none).outlines) {
    std::vector<PicturePoint> points;
    for (const Point2& p : line_on(input.setup.flip, side, line))
      points.push_back(frame.on(p));
    paper.line(points, {0.3, {}});
  }
  draw_marks(paper, frame, marks, labels, input.parts.empty());
  const auto& regions = input.report.wall.regions;
  const auto place = [&](std::size_t i) {
    return frame.on(side_place(input.setup.flip, side, Point2{regions[i].at.x, regions[i].at.y}));
  };
  for (std::size_t i = regions.size(); i-- > 0;) {
    const PicturePoint p = place(i);
    paper.disc(p.x, p.y, i < numbered ? 1.0 : 0.5, kBlack);
    if (i < numbered)
      labels.keep_clear(around(p, 1.0));
  }
  draw_parts(paper, input, side, frame, labels);
  name_marks(paper, frame, marks, input.flip_stated, labels, input.parts.empty());
  for (std::size_t i = 0; i < std::min(numbered, regions.size()); ++i)
    label(paper, place_number(regions[i], i), place(i), labels, 12, 1.6, true);
}

} // namespace leastwall
