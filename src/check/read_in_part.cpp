#include "check/read_in_part.h"

#include "bed/bed_map.h"
#include "bed/readings/readings_cover.h"
#include "setup/place.h"

#include <algorithm>
#include <fmt/format.h>
#include <string_view>

namespace leastwall {
namespace {

constexpr double kEnough = 0.5;

void ask(const BedMap& readings, const Footprint& board, std::string_view code,
         std::string_view what, std::string_view otherwise, std::vector<Notice>& out) {
  const double part = covered_part(readings, board).value_or(0);
  if (part >= kEnough)
    return;
  out.push_back({std::string(code),
                 fmt::format("{} was read over {:.0f} % of the board only ({} {}): what it is "
                             "elsewhere nothing says. Read a grid over the whole board, or {}.",
                             what, 100 * part, readings.points().size(),
                             readings.points().size() == 1 ? "reading" : "readings", otherwise),
                 Severity::unproven});
}

} // namespace

std::vector<Notice> read_in_part(const Setup& setup, const Footprint& board) {
  std::vector<Notice> out;
  if (!(board.high.x > board.low.x) || !(board.high.y > board.low.y))
    return out;
  Setup places = setup;
  places.board.footprint = board;
  if (setup.bed.readings) {
    const bool a_worse = covered_part(*setup.bed.readings, footprint_on_bed(places, Side::a)) <
                         covered_part(*setup.bed.readings, footprint_on_bed(places, Side::b));
    ask(*setup.bed.readings, footprint_on_bed(places, a_worse ? Side::a : Side::b),
        "bed-read-in-part", "The bed", "state its flatness (bed.flatness) instead", out);
  }
  if (setup.board.thickness_readings)
    ask(*setup.board.thickness_readings, board, "board-read-in-part", "The board's thickness",
        "state how much it varies (board.variation) instead", out);
  return out;
}

} // namespace leastwall
