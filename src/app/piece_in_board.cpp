#include "app/piece_in_board.h"

#include "base/errors.h"
#include "budget/spread.h"
#include "report/length_words.h"
#include "setup/bed_map.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr double kRounding_mm = 0.01; // numbers of meshes and jobs are rounded

double depth_of(const Setup& setup, const Box& box) {
  return setup.top_z_mm - box.low.z;
}

} // namespace

std::optional<double> thickest_board_mm(const Board& board) {
  std::optional<double> most = board.measured_thickness_mm;
  if (board.thickness_readings)
    for (const Vec3& reading : board.thickness_readings->points())
      most = std::max(most.value_or(reading.z), reading.z);
  if (!most)
    most = board.assumed_thickness_mm;
  if (!most)
    return std::nullopt;
  const double error = board.thickness_error.size_mm *
                       (board.thickness_error.knowledge == Knowledge::standard ? kNormalLimit : 1);
  return *most + error + board.variation_mm;
}

void require_thick_enough_board(const Setup& setup, const Box& box, LengthUnit units) {
  const LengthWords words{units == LengthUnit::inch};
  const std::optional<double> board = thickest_board_mm(setup.board);
  const double depth = depth_of(setup, box);
  if (board && depth > *board + kRounding_mm)
    throw InputError(fmt::format("the piece is {} deep under the pocket face and the board "
                                 "at most {} thick: take a thicker board, or check unit and "
                                 "placing of the meshes, pocket_face_z and the board's thickness",
                                 words.length(depth, 2), words.length(*board, 2)));
}

std::vector<Notice> board_mistakes(const Setup& setup, const Box& box) {
  std::vector<Notice> notices;
  if (const auto& f = setup.board.footprint; f && (box.low.x < f->low.x || box.high.x > f->high.x ||
                                                   box.low.y < f->low.y || box.high.y > f->high.y))
    notices.push_back({"model-off-board",
                       fmt::format("The model (x {:.1f} to {:.1f}, y {:.1f} to {:.1f} mm) reaches "
                                   "beyond the board (x {:.1f} to {:.1f}, y {:.1f} to {:.1f} mm); "
                                   "check unit, placing and board.",
                                   box.low.x, box.high.x, box.low.y, box.high.y, f->low.x,
                                   f->high.x, f->low.y, f->high.y),
                       Severity::doubt});
  const double depth = depth_of(setup, box);
  if (const auto& t = setup.board.assumed_thickness_mm; t && depth > *t + kRounding_mm)
    notices.push_back(
        {"model-deeper-than-board",
         fmt::format("The model is {:.2f} mm deep under the pocket face and the board "
                     "{:.2f} mm thick; check unit, placing and board.",
                     depth, *t),
         Severity::doubt});
  return notices;
}

} // namespace leastwall
