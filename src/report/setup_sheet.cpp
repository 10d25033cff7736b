#include "report/setup_sheet.h"

#include "report/sheet_blocks.h"
#include "report/sheet_drawing.h"
#include "report/sheet_overlay.h"
#include "report/sheet_words.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::array kSides{Side::a, Side::b};
constexpr std::size_t kMostRows = 8;
constexpr double kLeastDrawing = 62; // mm

std::string page_words(std::size_t page, std::size_t pages) {
  return fmt::format("Page {} of {}.", page, pages);
}

/// Lower edge of a block that starts at 0, found by drawing it on paper that is thrown away.
template <class Block>
double height_of(PaperSize size, const SetupSheetInput& input, bool inch, double width,
                 const Block& block) {
  SheetPaper scratch(size, "");
  SheetBlocks blocks{scratch, input, inch};
  blocks.width = width;
  return block(blocks);
}

void draw_side(SheetPaper& paper, const SetupSheetInput& input, const SetupSheetOptions& options,
               Side side, const std::string& page) {
  const double width = paper.width() - 2 * kSheetMargin, bottom = paper.height() - 9;
  const double column = 80;
  const auto height = [&](double w, const auto& block) {
    return height_of(options.paper, input, options.inch, w, block);
  };
  const double fixed = height(width, [&](SheetBlocks& b) {
    return b.cautions(b.pad(side, b.checks(side, b.bits(side, 0))));
  });
  const double facts = height(column, [&](SheetBlocks& b) { return b.facts(side, 0); });

  SheetBlocks blocks{paper, input, options.inch};
  blocks.width = width;
  const double head =
      blocks.head(side, face_words(side) + (side == Side::a ? ", CUT FIRST" : ", AFTER THE FLIP"),
                  page, kSheetMargin);
  // As many thin places as leave the drawing large enough.
  const double least = std::max(facts, kLeastDrawing);
  std::size_t rows = std::min(kMostRows, input.report.regions.size());
  const auto places = [&](std::size_t n) {
    return height(width, [&](SheetBlocks& b) { return b.places(side, n, 0); });
  };
  while (rows > 1 && head + least + fixed + places(rows) > bottom)
    --rows;
  const double drawing = std::max(least, bottom - head - fixed - places(rows));

  const double top = head + 1;
  draw_board(paper, input, side,
             {kSheetMargin, top, kSheetMargin + width - column - 5, head + drawing - 2}, rows);
  SheetBlocks side_column = blocks;
  side_column.left = kSheetMargin + width - column;
  side_column.width = column;
  side_column.facts(side, top);
  double y = head + drawing;
  y = blocks.bits(side, y);
  y = blocks.checks(side, y);
  y = blocks.pad(side, y);
  y = blocks.places(side, rows, y);
  blocks.cautions(y);
}

} // namespace

std::string setup_sheet(const SetupSheetInput& input, const SetupSheetOptions& options) {
  std::array<OverlayPlan, 2> plans;
  std::size_t pages = kSides.size();
  for (std::size_t i = 0; i < kSides.size(); ++i) {
    plans[i] = plan_overlay(input, kSides[i], options.paper);
    pages += plans[i].tiles.size();
  }
  SheetPaper paper(options.paper, "Setup sheet: " + input.report.title);
  std::size_t page = 0;
  for (const Side side : kSides) {
    if (page > 0)
      paper.next_page(false);
    draw_side(paper, input, options, side, page_words(page + 1, pages));
    ++page;
  }
  for (std::size_t i = 0; i < kSides.size(); ++i)
    for (std::size_t tile = 0; tile < plans[i].tiles.size(); ++tile) {
      paper.next_page(plans[i].lying);
      draw_overlay(paper, input, kSides[i], plans[i], tile, page_words(page + 1, pages),
                   options.inch);
      ++page;
    }
  return paper.pdf();
}

} // namespace leastwall
