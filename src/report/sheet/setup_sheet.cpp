#include "report/sheet/setup_sheet.h"

#include "report/sheet/pour_page.h"
#include "report/sheet/section_page.h"
#include "report/sheet/sheet_blocks.h"
#include "report/sheet/sheet_drawing.h"
#include "report/sheet/sheet_notices.h"
#include "report/sheet/sheet_overlay.h"
#include "report/sheet/sheet_text.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <map>
#include <vector>

namespace leastwall {
namespace {

constexpr std::array kSides{Side::a, Side::b};
constexpr std::size_t kMaxRows = 8, kMinRows = 4;
constexpr double kColumn = 80, kFoot = 9; // mm
constexpr double kMinZoom = 0.75;         // body text of 8 points
constexpr double kMinDrawing = 62;        // mm

std::string page_text(std::size_t page, std::size_t pages) {
  return fmt::format("Page {} of {}.", page, pages);
}

/// Lower edge of a block that starts at 0, found by drawing it on paper that is thrown away.
template <class Block>
double height_of(PaperSize size, const SetupSheetInput& input, bool inch, double width,
                 const Block& block) {
  SheetPaper scratch(size, "", SheetFile::nothing);
  SheetBlocks blocks{scratch, input, inch};
  blocks.width = width;
  const double height = block(blocks);
  return height;
}

/// How the blocks of a page share its height, mm.
struct PagePlan {
  double facts = 0, fixed = 0; ///< the column beside the drawing; all blocks but the thin places
  double drawing = 0;
  std::size_t rows = 0; ///< thin places listed
  double zoom = 1;
  NoticeRoom notices;
  bool fits = false;
};

/// Is it the first page of all? What would help is said there: later it may be too late for it.
bool comes_first(const SetupSheetInput& input, Side side) {
  return input.step == nullptr && side == Side::a;
}

/// `zoom`: as SheetPaper::zoom takes it.
PagePlan plan_page(const SheetPaper& paper, const SetupSheetInput& input,
                   const SetupSheetOptions& options, Side side, double zoom,
                   const NoticeRoom& notices) {
  const double width = paper.width() / zoom - 2 * kSheetMargin;
  const auto height = [&](double w, const auto& block) {
    return height_of(options.paper, input, options.inch, w, block);
  };
  const auto places = [&](std::size_t n) {
    return height(width, [&](SheetBlocks& b) { return b.places(side, n, 0); });
  };
  PagePlan plan;
  plan.zoom = zoom;
  plan.notices = notices;
  plan.fixed = height(width, [&](SheetBlocks& b) {
    const double box = b.notices(sheet_notices(input.report, side), notices, 0);
    const double help = comes_first(input, side) ? b.help(box) : box;
    return b.cautions(b.pad(side, b.checks(side, b.bits(side, help))));
  });
  plan.facts = height(kColumn, [&](SheetBlocks& b) { return b.facts(side, 0); });
  plan.drawing = std::max(plan.facts, kMinDrawing);
  const double room = paper.height() / zoom - kFoot - kSheetMargin - kSheetHead;
  const std::size_t regions = input.report.wall.regions.size();
  plan.rows = std::min(kMaxRows, regions);
  while (plan.rows > kMinRows && plan.drawing + plan.fixed + places(plan.rows) > room)
    --plan.rows;
  const double rest = room - plan.fixed - places(plan.rows);
  plan.fits = rest >= plan.drawing;
  plan.drawing = std::max(plan.drawing, rest);
  return plan;
}

/// A page with much to say is drawn a little smaller, as a whole; where that is not enough the
/// notices are cut to their first sentences, and then to fewer, and say so.
PagePlan plan_side(const SheetPaper& paper, const SetupSheetInput& input,
                   const SetupSheetOptions& options, Side side) {
  const std::size_t count = sheet_notices(input.report, side).size();
  std::vector<NoticeRoom> rooms{{false, count}, {true, count}};
  for (std::size_t n = count; n-- > 1;)
    rooms.push_back({true, n});
  PagePlan plan;
  for (const NoticeRoom& notices : rooms) {
    const bool last = plan_page(paper, input, options, side, kMinZoom, notices).fits;
    if (!last && &notices != &rooms.back())
      continue;
    for (double zoom = 1; zoom > kMinZoom; zoom *= 0.97) {
      plan = plan_page(paper, input, options, side, zoom, notices);
      if (plan.fits)
        return plan;
    }
    return plan_page(paper, input, options, side, kMinZoom, notices);
  }
  return plan;
}

std::string side_words(const SetupSheetInput& input, Side side) {
  if (input.step && input.step->boards > 1)
    return fmt::format("{} OF {}: BOARD {}, {}", input.step->number, input.step->of,
                       input.step->board + 1, face_text(side));
  if (input.step)
    return fmt::format("{} OF {}: {}", input.step->number, input.step->of, face_text(side));
  return face_text(side) + (side == Side::a ? ", CUT FIRST" : ", AFTER THE FLIP");
}

void draw_side(SheetPaper& paper, const SetupSheetInput& input, const SetupSheetOptions& options,
               Side side, const std::string& page) {
  const PagePlan plan = plan_side(paper, input, options, side);
  paper.zoom(plan.zoom);
  const double width = paper.width() - 2 * kSheetMargin;
  SheetBlocks blocks{paper, input, options.inch};
  blocks.width = width;
  const double head = blocks.head(side_letter(side), side_words(input, side), page, kSheetMargin);
  double below = blocks.notices(sheet_notices(input.report, side), plan.notices, head);
  if (comes_first(input, side))
    below = blocks.help(below);
  draw_board(
      paper, input, side,
      {kSheetMargin, below + 1, kSheetMargin + width - kColumn - 5, below + plan.drawing - 2},
      plan.rows);
  SheetBlocks column = blocks;
  column.left = kSheetMargin + width - kColumn;
  column.width = kColumn;
  column.facts(side, below + 1);
  double y = below + plan.drawing;
  y = blocks.bits(side, y);
  y = blocks.checks(side, y);
  y = blocks.pad(side, y);
  y = blocks.places(side, plan.rows, y);
  blocks.cautions(y);
}

/// Counts `page` on.
void draw_pours(SheetPaper& paper, const SetupSheetInput& input, const SetupSheetOptions& options,
                std::size_t& page, std::size_t pages) {
  for (const std::size_t row : input.pour_rows) {
    paper.next_page(false);
    draw_pour_page(paper, *input.pour, {row, input.step}, page_text(++page, pages), options.inch);
  }
}

/// Counts `page` on.
void draw_section(SheetPaper& paper, const SetupSheetInput& input, const SetupSheetOptions& options,
                  std::size_t& page, std::size_t pages) {
  if (!input.section)
    return;
  paper.next_page(false);
  draw_section_page(paper, input, page_text(++page, pages), options.inch);
}

/// Every board with side A up beside the others; of more than can be seen the first one.
void draw_boards(SheetPaper& paper, const SetupSheetInput& all,
                 std::span<const SetupSheetInput> steps, const LabelBox& room) {
  constexpr std::size_t kMost = 3;
  constexpr double kGap = 4, kName = 6; // mm
  const std::size_t boards = steps.empty() ? 1 : steps.front().step->boards;
  if (boards < 2) {
    draw_board(paper, all, Side::a, room, 0);
    return;
  }
  std::vector<const SetupSheetInput*> firsts;
  for (const SetupSheetInput& step : steps)
    if (step.step->of_board == 1 && (boards <= kMost || firsts.empty()))
      firsts.push_back(&step);
  const auto count = static_cast<double>(firsts.size());
  const double width = (room.right - room.left - kGap * (count - 1)) / count;
  double left = room.left;
  for (const SetupSheetInput* first : firsts) {
    SetupSheetInput board = *first;
    board.step = nullptr;
    board.holes = {}; // on the page of their set-up
    paper.text(fmt::format("BOARD {} OF {}", first->step->board + 1, boards), left + width / 2,
               room.top + 4.2, {11, true, Align::centre, kBlack});
    draw_board(paper, board, Side::a, {left, room.top + kName, left + width, room.bottom}, 0);
    left += width + kGap;
  }
}

/// Drawing, order of work and walls, each below the other; what is left goes to the drawing.
void draw_order(SheetPaper& paper, const SetupSheetInput& all,
                std::span<const SetupSheetInput> steps, const SetupSheetOptions& options,
                const std::string& page) {
  const double width = paper.width() - 2 * kSheetMargin;
  std::vector<Notice> found = sheet_notices(all.report, Side::a);
  for (const Notice& n : sheet_notices(all.report, Side::b))
    if (std::find(found.begin(), found.end(), n) == found.end())
      found.push_back(n);
  std::vector<SheetStep> order;
  for (const SetupSheetInput& step : steps)
    order.push_back(*step.step);
  constexpr NoticeRoom kBrief{true, 6};
  const auto below_head = [&](SheetBlocks& b, double top) {
    return b.cautions(b.seams(b.walls(b.order(order, b.help(b.notices(found, kBrief, top))))));
  };
  const double fixed = height_of(options.paper, all, options.inch, width,
                                 [&](SheetBlocks& b) { return below_head(b, 0); });
  SheetBlocks blocks{paper, all, options.inch};
  blocks.width = width;
  const double head =
      blocks.head(std::to_string(steps.size()), "SET-UPS, IN THIS ORDER", page, kSheetMargin);
  const double room = paper.height() - kFoot - kSheetMargin - kSheetHead - fixed;
  const double drawing = std::max(kMinDrawing, room);
  draw_boards(paper, all, steps,
              {kSheetMargin, head + 1, kSheetMargin + width, head + drawing - 2});
  below_head(blocks, head + drawing);
}

/// The lines of every skin of a sheet, each looked at once.
class LinesOfSkins {
 public:
  SetupSheetInput with(SetupSheetInput input) {
    if (input.skin == nullptr)
      return input;
    const auto [found, is_new] = of_.try_emplace(input.skin);
    if (is_new)
      found->second = sheet_lines(*input.skin, input.worst_mm, input.report.wall.limit_mm);
    input.lines = &found->second;
    return input;
  }

 private:
  std::map<const WallMap*, SheetLines> of_; // only looked up, never gone through
};

} // namespace

std::string steps_sheet(const SetupSheetInput& job, std::span<const SetupSheetInput> pages_of_steps,
                        const SetupSheetOptions& options) {
  LinesOfSkins lines;
  const SetupSheetInput all = lines.with(job);
  std::vector<SetupSheetInput> steps;
  for (const SetupSheetInput& step : pages_of_steps)
    steps.push_back(lines.with(step));
  SheetPaper paper(options.paper, "Setup sheet: " + all.report.title, options.file);
  std::size_t pages = steps.size() + 1 + (all.section ? 1 : 0), page = 1;
  for (const SetupSheetInput& step : steps)
    pages += step.pour_rows.size();
  draw_order(paper, all, steps, options, page_text(1, pages));
  for (const SetupSheetInput& step : steps) {
    paper.next_page(false);
    draw_side(paper, step, options, step.step->side, page_text(++page, pages));
    draw_pours(paper, step, options, page, pages);
  }
  draw_section(paper, all, options, page, pages);
  return paper.file();
}

std::string setup_sheet(const SetupSheetInput& piece, const SetupSheetOptions& options) {
  LinesOfSkins lines;
  const SetupSheetInput input = lines.with(piece);
  std::array<OverlayPlan, 2> plans;
  std::size_t pages = kSides.size() + input.pour_rows.size() + (input.section ? 1 : 0);
  for (std::size_t i = 0; i < kSides.size(); ++i) {
    plans[i] = plan_overlay(input, kSides[i], options.paper, options.inch);
    pages += plans[i].tiles.size();
  }
  SheetPaper paper(options.paper, "Setup sheet: " + input.report.title, options.file);
  std::size_t page = 0;
  for (const Side side : kSides) {
    if (page > 0)
      paper.next_page(false);
    draw_side(paper, input, options, side, page_text(++page, pages));
    if (side == Side::a)
      draw_pours(paper, input, options, page, pages);
  }
  draw_section(paper, input, options, page, pages);
  for (std::size_t i = 0; i < kSides.size(); ++i)
    for (std::size_t tile = 0; tile < plans[i].tiles.size(); ++tile) {
      paper.next_page(plans[i].lying);
      draw_overlay(paper, input, kSides[i], plans[i], tile, page_text(page + 1, pages),
                   options.inch);
      ++page;
    }
  return paper.file();
}

} // namespace leastwall
