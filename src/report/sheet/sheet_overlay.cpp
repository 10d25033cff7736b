#include "report/sheet/sheet_overlay.h"

#include "causes/model/cause_terms.h"
#include "report/sheet/sheet_blocks.h"
#include "report/sheet/sheet_drawing.h"
#include "report/sheet/sheet_notices.h"
#include "report/sheet/sheet_text.h"
#include "report/words/number_text.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr double kHead = 27;    // mm at the top of a page
constexpr double kFoot = 16;    // mm at the bottom, with the check line
constexpr double kOverlap = 15; // mm that neighbouring tiles share
int pages_for(double length, double room) {
  return length <= room ? 1 : static_cast<int>(std::ceil((length - kOverlap) / (room - kOverlap)));
}

/// What leaves the walls shown here unproven or in doubt.
std::vector<Notice> overlay_notices(const CheckReport& report, Side side) {
  std::vector<Notice> found = sheet_notices(report, side);
  std::erase_if(found, [](const Notice& n) { return n.severity == Severity::warning; });
  return found;
}

constexpr NoticeRoom kOverlayNotices{true, 3};

/// Height of the head with its box of notices, on paper of that width.
double head_height(const SetupSheetInput& input, Side side, PaperSize size, double width,
                   bool inch) {
  SheetPaper scratch(size, "", SheetFile::nothing);
  SheetBlocks blocks{scratch, input, inch};
  blocks.width = width;
  const double box = blocks.notices(overlay_notices(input.report, side), kOverlayNotices, 0);
  return kHead + box;
}

Footprint grown(Footprint f, double by) {
  return {{f.low.x - by, f.low.y - by}, {f.high.x + by, f.high.y + by}};
}

/// A line of exactly 100 mm with its ends marked.
void check_line(SheetPaper& paper, double x, double y, bool inch) {
  paper.line({{x, y}, {x + 100, y}}, {0.25, {}});
  for (int i = 0; i <= 10; ++i) {
    const double tall = i % 10 == 0 ? 4 : (i == 5 ? 2.4 : 1.4);
    paper.line({{x + 10 * i, y - tall}, {x + 10 * i, y}}, {0.25, {}});
  }
  paper.text(inch ? "must measure 3.937 in (100.0 mm)" : "must measure 100.0 mm", x + 50, y + 4.6,
             {10, true, Align::centre, kBlack});
}

std::string scale_text(const OverlayPlan& plan) {
  if (plan.scale < 1)
    return fmt::format("NOT FULL SIZE: 1 : {}. At full size it would take more than {} pages.",
                       fixed_text(1 / plan.scale, 2), kMaxOverlayPages);
  if (plan.columns * plan.rows == 1)
    return "Full size, 1 : 1. Print at 100 %, not fitted to the page.";
  return "Full size, 1 : 1, on several pages. Print at 100 %; join them by the broken lines.";
}

} // namespace

OverlayPlan plan_overlay(const SetupSheetInput& input, Side side, PaperSize paper_size, bool inch) {
  const SideMarks marks = sheet_marks(input, side);
  const Footprint all = grown(marks.solid(), 0.5);
  const double w = all.high.x - all.low.x, h = all.high.y - all.low.y;
  const SheetPaper paper(paper_size, "", SheetFile::nothing);
  OverlayPlan best;
  int least_pages = 0;
  for (const bool lying : {false, true}) {
    OverlayPlan plan;
    plan.lying = lying;
    plan.room_w = (lying ? paper.height() : paper.width()) - 2 * kSheetMargin;
    plan.head = head_height(input, side, paper_size, plan.room_w, inch);
    plan.room_h = (lying ? paper.width() : paper.height()) - 2 * kSheetMargin - plan.head - kFoot;
    plan.columns = pages_for(w, plan.room_w);
    plan.rows = pages_for(h, plan.room_h);
    const double step_x = plan.room_w - kOverlap, step_y = plan.room_h - kOverlap;
    // Tiles together lie in the middle of what is drawn.
    const double left = (all.low.x + all.high.x - (plan.columns - 1) * step_x - plan.room_w) / 2;
    const double top = (all.low.y + all.high.y + (plan.rows - 1) * step_y + plan.room_h) / 2;
    for (int row = 0; row < plan.rows; ++row)
      for (int column = 0; column < plan.columns; ++column) {
        const OverlayPlan::Tile tile{left + column * step_x, top - row * step_y, column, row};
        const bool used = std::ranges::any_of(input.report.wall.regions, [&](const RegionRow& r) {
          const Point2 p = side_place(input.setup.flip, side, Point2{r.at.x, r.at.y});
          return p.x >= tile.left && p.x <= tile.left + plan.room_w && p.y <= tile.top &&
                 p.y >= tile.top - plan.room_h;
        });
        if (used)
          plan.tiles.push_back(tile);
      }
    const int pages = static_cast<int>(plan.tiles.size());
    const bool fewer_joins =
        pages == least_pages && plan.columns * plan.rows < best.columns * best.rows;
    if (pages > 0 && (least_pages == 0 || pages < least_pages || fewer_joins)) {
      best = plan;
      least_pages = pages;
    }
  }
  if (least_pages <= kMaxOverlayPages)
    return best;
  best.lying = w > h;
  best.room_w = (best.lying ? paper.height() : paper.width()) - 2 * kSheetMargin;
  best.head = head_height(input, side, paper_size, best.room_w, inch);
  best.room_h =
      (best.lying ? paper.width() : paper.height()) - 2 * kSheetMargin - best.head - kFoot;
  best.scale = std::min(best.room_w / w, best.room_h / h);
  best.columns = best.rows = 1;
  best.tiles = {{(all.low.x + all.high.x - best.room_w / best.scale) / 2,
                 (all.low.y + all.high.y + best.room_h / best.scale) / 2, 0, 0}};
  return best;
}

void draw_overlay(SheetPaper& paper, const SetupSheetInput& input, Side side,
                  const OverlayPlan& plan, std::size_t tile, const std::string& page, bool inch) {
  const OverlayPlan::Tile& at = plan.tiles[tile];
  SheetBlocks blocks{paper, input, inch};
  blocks.width = paper.width() - 2 * kSheetMargin;
  const double below =
      blocks.head(side_letter(side), face_text(side) + ": THIN PLACES", page, kSheetMargin);
  blocks.notices(overlay_notices(input.report, side), kOverlayNotices, below);

  const double left = kSheetMargin, top = kSheetMargin + plan.head;
  PaperFrame frame;
  frame.scale = plan.scale;
  frame.left = left;
  frame.bottom = top + plan.room_h;
  frame.low = {at.left, at.top - plan.room_h / plan.scale};
  const SideMarks marks = sheet_marks(input, side);
  LabelPlaces labels({left + 1, top + 1, left + plan.room_w - 1, top + plan.room_h - 1});
  paper.clip(left, top, plan.room_w, plan.room_h);
  const SheetLines none;
  for (const auto& edge : (input.lines ? *input.lines : none).thin) {
    std::vector<PicturePoint> points;
    for (const Point2& p : line_on(input.setup.flip, side, edge))
      points.push_back(frame.on(p));
    paper.line(points, {0.35, {}});
    for (std::size_t i = 0; i < points.size(); i += 4)
      labels.keep_clear(
          {points[i].x - 0.5, points[i].y - 0.5, points[i].x + 0.5, points[i].y + 0.5});
  }
  draw_marks(paper, frame, marks, labels);
  const auto& regions = input.report.wall.regions;
  std::vector<std::size_t> here;
  for (std::size_t i = 0; i < regions.size(); ++i) {
    const PicturePoint p =
        frame.on(side_place(input.setup.flip, side, Point2{regions[i].at.x, regions[i].at.y}));
    if (p.x < left || p.x > left + plan.room_w || p.y < top || p.y > top + plan.room_h)
      continue;
    here.push_back(i);
    paper.line({{p.x - 3, p.y}, {p.x + 3, p.y}}, {0.3, {}});
    paper.line({{p.x, p.y - 3}, {p.x, p.y + 3}}, {0.3, {}});
    labels.keep_clear({p.x - 2.2, p.y - 2.2, p.x + 2.2, p.y + 2.2});
  }
  name_marks(paper, frame, marks, input.flip_stated, labels);
  constexpr std::size_t kNamed = 40;
  for (std::size_t k = 0; k < std::min(kNamed, here.size()); ++k) {
    const RegionRow& row = regions[here[k]];
    const PicturePoint p = frame.on(side_place(input.setup.flip, side, Point2{row.at.x, row.at.y}));
    name_place(paper, std::to_string(here[k] + 1),
               sheet_wall(row.least_wall_mm, input.report.wall.limit_mm, inch) +
                   (inch && row.least_wall_mm > 0 ? " in" : ""),
               p, labels);
  }
  // Neighbouring pages meet in the middle of what they share.
  const Stroke join{0.3, {4, 2}};
  const double half = kOverlap / 2, right = left + plan.room_w, bottom = top + plan.room_h;
  if (at.column > 0)
    paper.line({{left + half, top}, {left + half, bottom}}, join);
  if (at.column + 1 < plan.columns)
    paper.line({{right - half, top}, {right - half, bottom}}, join);
  if (at.row > 0)
    paper.line({{left, top + half}, {right, top + half}}, join);
  if (at.row + 1 < plan.rows)
    paper.line({{left, bottom - half}, {right, bottom - half}}, join);
  paper.unclip();
  paper.rectangle(left, top, plan.room_w, plan.room_h, {0.2, {}});

  const double foot = top + plan.room_h;
  check_line(paper, left, foot + 8, inch);
  std::string words = scale_text(plan);
  if (plan.columns * plan.rows > 1)
    words += fmt::format(" This is column {} of {}, row {} of {}.", at.column + 1, plan.columns,
                         at.row + 1, plan.rows);
  paper.text(fmt::format("Numbered box: a thin place with its expected wall, {}.{}",
                         inch ? "in" : "mm",
                         input.skin != nullptr ? " Line around it: may end under the limit." : ""),
             left, foot + 16.6, {8, false, Align::left, kBlack});
  paper.paragraph(words, left + 106, foot + 1.5, plan.room_w - 106, {10, true, Align::left, kBlack},
                  4);
}

} // namespace leastwall
