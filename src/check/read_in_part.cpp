#include "check/read_in_part.h"

#include "bed/bed_map.h"
#include "bed/readings/readings_cover.h"
#include "setup/place.h"

#include <algorithm>
#include <fmt/format.h>
#include <string_view>

namespace leastwall {
namespace {

constexpr double kPieceCovered = 0.9;

struct Covered {
  double board = 0, piece = 0; ///< shares, 0 to 1
};

/// Adds the finding where too little is covered.
void tell(const Covered& part, const BedMap& readings, std::string_view code, std::string_view what,
          std::string_view otherwise, std::vector<Notice>& out) {
  if (part.board >= kWellCovered && part.piece >= kPieceCovered)
    return;
  const bool board = part.board < kWellCovered;
  const std::size_t count = readings.points().size();
  out.push_back(
      {std::string(code),
       fmt::format("{} was read over {:.0f} % of the {} only ({} {}): what it is "
                   "elsewhere nothing says. Read a grid over the whole board, or {}.",
                   what, 100 * (board ? part.board : part.piece), board ? "board" : "piece", count,
                   count == 1 ? "reading" : "readings", otherwise),
       Severity::unproven});
}

} // namespace

std::vector<Notice> read_in_part(const Setup& setup, const Footprint& board, const Box& piece) {
  std::vector<Notice> out;
  if (!(board.high.x > board.low.x) || !(board.high.y > board.low.y))
    return out;
  const Footprint under{{piece.low.x, piece.low.y}, {piece.high.x, piece.high.y}};
  const auto covered = [&](const BedMap& readings, const auto& place) {
    return Covered{covered_part(readings, place(board)).value_or(0),
                   covered_part(readings, place(under)).value_or(0)};
  };
  if (const auto& readings = setup.bed.readings) {
    const auto on_side = [&](Side side) {
      return covered(*readings, [&](const Footprint& f) {
        Setup places = setup;
        places.board.footprint = f;
        return footprint_on_bed(places, side);
      });
    };
    const Covered a = on_side(Side::a), b = on_side(Side::b);
    tell({std::min(a.board, b.board), std::min(a.piece, b.piece)}, *readings, "bed-read-in-part",
         "The bed", "state its flatness (bed.flatness) instead", out);
  }
  if (const auto& readings = setup.board.thickness_readings)
    tell(covered(*readings, [](const Footprint& f) { return f; }), *readings, "board-read-in-part",
         "The board's thickness", "state how much it varies (board.variation) instead", out);
  return out;
}

} // namespace leastwall
