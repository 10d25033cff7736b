#include "check/read_in_part.h"

#include "bed/bed_map.h"
#include "bed/readings/readings_cover.h"
#include "setup/place.h"

#include <algorithm>
#include <fmt/format.h>
#include <string_view>

namespace leastwall {
namespace {

/// Adds the finding where `part` of the board is too little.
void tell(double part, const BedMap& readings, std::string_view code, std::string_view what,
          std::string_view otherwise, std::vector<Notice>& out) {
  if (part >= kWellCovered)
    return;
  const std::size_t count = readings.points().size();
  out.push_back(
      {std::string(code),
       fmt::format("{} was read over {:.0f} % of the board only ({} {}): what it is "
                   "elsewhere nothing says. Read a grid over the whole board, or {}.",
                   what, 100 * part, count, count == 1 ? "reading" : "readings", otherwise),
       Severity::unproven});
}

} // namespace

std::vector<Notice> read_in_part(const Setup& setup, const Footprint& board) {
  std::vector<Notice> out;
  if (!(board.high.x > board.low.x) || !(board.high.y > board.low.y))
    return out;
  const auto part = [](const BedMap& readings, const Footprint& rectangle) {
    return covered_part(readings, rectangle).value_or(0);
  };
  if (const auto& readings = setup.bed.readings) {
    Setup places = setup;
    places.board.footprint = board;
    tell(std::min(part(*readings, footprint_on_bed(places, Side::a)),
                  part(*readings, footprint_on_bed(places, Side::b))),
         *readings, "bed-read-in-part", "The bed", "state its flatness (bed.flatness) instead",
         out);
  }
  if (const auto& readings = setup.board.thickness_readings)
    tell(part(*readings, board), *readings, "board-read-in-part", "The board's thickness",
         "state how much it varies (board.variation) instead", out);
  return out;
}

} // namespace leastwall
