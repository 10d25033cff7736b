#include "check/bed_under_piece.h"

#include "base/errors.h"
#include "bed/bed_map.h"
#include "bed/readings/readings_cover.h"
#include "setup/place.h"

#include <fmt/format.h>
#include <optional>

namespace leastwall {
namespace {

std::string words(double low_x, double high_x, double low_y, double high_y) {
  return fmt::format("x {:.6g} to {:.6g}, y {:.6g} to {:.6g} mm", low_x, high_x, low_y, high_y);
}

} // namespace

void require_bed_under_piece(const JobInput& input, const std::string& job,
                             std::string_view origin) {
  const Setup& stated = input.first().setup;
  if (!stated.bed.readings)
    return;
  const BedMap& readings = *stated.bed.readings;
  const Setup setup = with_footprint_of(stated, box_on_board(input));
  if (setup.board.footprint->high.x <= setup.board.footprint->low.x ||
      setup.board.footprint->high.y <= setup.board.footprint->low.y)
    return; // told elsewhere
  const Footprint board = footprint_on_bed(setup, Side::a);
  const std::optional<double> part = covered_part(readings, board);
  const bool line = readings.outline().size() < 3;
  const bool origin_stated = setup.bed.part_origin_stated;
  if (part && (origin_stated || line || *part >= kWellCovered))
    return;
  Box read;
  for (const Vec3& p : readings.points())
    read.add(p);
  const std::string on_bed = words(board.low.x, board.high.x, board.low.y, board.high.y);
  const std::string among = words(read.low.x, read.high.x, read.low.y, read.high.y);
  if (origin_stated)
    throw InputError(fmt::format("{}: with {} the board lies at {} of the bed, and no reading ({}) "
                                 "comes under it; check the numbers and their unit",
                                 job, origin, on_bed, among));
  throw InputError(fmt::format(
      "{}: state {}, the place of model 0, 0 among the readings: at their 0, 0 only {:.0f} % of "
      "the board ({}) would lie on what was read ({})",
      job, origin, 100 * part.value_or(0), on_bed, among));
}

} // namespace leastwall
