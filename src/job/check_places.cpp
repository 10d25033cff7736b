#include "job/read_tables.h"

namespace leastwall {
namespace {

bool outside(const Footprint& board, Point2 p) {
  return p.x < board.low.x || p.x > board.high.x || p.y < board.low.y || p.y > board.high.y;
}

std::string board_text(const Footprint& board, LengthUnit unit) {
  const double mm = millimetres_per(unit);
  return fmt::format("x {:.6g}..{:.6g}, y {:.6g}..{:.6g} {}", board.low.x / mm, board.high.x / mm,
                     board.low.y / mm, board.high.y / mm, unit == LengthUnit::mm ? "mm" : "in");
}

/// Bed zeros are touched beside the board, so only a zero on top must lie on it.
void check_side(const TableReader& side, const SideSetup& setup, const Board& board) {
  const std::string path = side.path_of("touch_point");
  if (board.footprint && setup.touch_point && setup.zero == ZeroFrom::top &&
      side.has("touch_point") && outside(*board.footprint, *setup.touch_point))
    side.fail("touch_point",
              fmt::format("{} lies outside the board ({}); a zero on top is touched on the board",
                          path, board_text(*board.footprint, side.source().unit)));
  if (setup.roughing && side.has("roughing") &&
      setup.roughing->allowance_mm > *board.assumed_thickness_mm)
    side.fail("roughing", side.path_of("roughing.allowance") +
                              " is more than the board's thickness; check value and unit");
}

} // namespace

void check_places(const TableReader& root, const Job& job) {
  const double thickness_mm = *job.board.assumed_thickness_mm;
  const TableReader a = root.table("side_a"), b = root.table("side_b");
  for (const Part& part : job.parts)
    for (const Pocket& pocket : part.pockets) {
      check_side(a, pocket.side_a, job.board);
      check_side(b, pocket.side_b, job.board);
    }
  const auto parts = root.tables("part");
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto rows = parts[i].tables("pocket");
    for (std::size_t k = 0; k < rows.size(); ++k) {
      const Pocket& pocket = job.parts[i].pockets[k];
      check_side(rows[k].table("side_a", true), pocket.side_a, job.board);
      check_side(rows[k].table("side_b", true), pocket.side_b, job.board);
      if (pocket.limit_mm >= thickness_mm) {
        const TableReader& where = rows[k].has("limit") ? rows[k] : root;
        where.fail("limit", fmt::format("{} is not below board.thickness; check both values and "
                                        "their unit",
                                        where.path_of("limit")));
      }
    }
  }
  if (!job.board.footprint || !job.flip || !job.flip->dowels)
    return;
  const TableReader dowels = root.table("flip").table("dowels");
  const Footprint& board = *job.board.footprint;
  const Dowels& pins = *job.flip->dowels;
  if (pins.middle && outside(board, *pins.middle))
    dowels.fail("middle", fmt::format("flip.dowels.middle lies outside the board ({})",
                                      board_text(board, root.source().unit)));
  const bool pins_along_x = (job.flip->line == FlipLine::along_x) == pins.along_flip_line;
  const double room = pins_along_x ? board.high.x - board.low.x : board.high.y - board.low.y;
  if (pins.spacing_mm > room)
    dowels.fail("spacing", fmt::format("flip.dowels.spacing is more than the board's {} ({}); "
                                       "check flip.line, stand and board.size",
                                       pins_along_x ? "width" : "depth",
                                       board_text(board, root.source().unit)));
}

} // namespace leastwall
