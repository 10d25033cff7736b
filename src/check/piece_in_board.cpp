#include "check/piece_in_board.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "bed/bed_map.h"
#include "causes/board/board_thickness.h"
#include "causes/model/cause_terms.h"
#include "report/words/length_text.h"
#include "wall/sampling/refine.h"

#include <algorithm>
#include <fmt/format.h>
#include <limits>

namespace leastwall {
namespace {

constexpr double kRounding_mm = 0.01;     // numbers of meshes and jobs are rounded
constexpr double kLargestSwelling = 0.01; // of the thickness per % of moisture: more than any wood

double depth_of(const Setup& setup, const Box& box) {
  return setup.top_z_mm - box.low.z;
}

/// The part of the box's plan that lies on the board, 0 to 1.
double part_inside(const Box& box, const Footprint& f) {
  const auto along = [](double low, double high, double from, double to) {
    if (high <= low)
      return low >= from && low <= to ? 1.0 : 0.0;
    return std::max(0.0, std::min(high, to) - std::max(low, from)) / (high - low);
  };
  return along(box.low.x, box.high.x, f.low.x, f.high.x) *
         along(box.low.y, box.high.y, f.low.y, f.high.y);
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
  return *most + limit_of(board.thickness_error) + board.variation_mm;
}

std::optional<double> thinnest_board_mm(const Board& board) {
  std::optional<double> least = board.measured_thickness_mm;
  if (board.thickness_readings)
    for (const Vec3& reading : board.thickness_readings->points())
      least = std::min(least.value_or(reading.z), reading.z);
  else if (!least)
    least = board.assumed_thickness_mm;
  if (!least)
    return std::nullopt;
  const double variation = board.thickness_readings ? 0.0 : board.variation_mm;
  const double swelling =
      board.moisture_change_percent * board.swelling_per_percent.value_or(kLargestSwelling);
  return (*least - limit_of(board.thickness_error) - variation) * (1 + std::min(0.0, swelling));
}

std::optional<double> board_face_z_mm(const Setup& setup) {
  std::vector<Assumption> ignored;
  const std::optional<double> thickness = setup.outer.zero == ZeroFrom::top
                                              ? assumed_thickness(setup, ignored).b
                                              : thinnest_board_mm(setup.board);
  return thickness ? std::optional(setup.top_z_mm - *thickness) : std::nullopt;
}

std::vector<Notice> thin_board_findings(const Setup& setup, const Box& box,
                                        const WallsAtWorst& walls, double limit_mm, bool holds) {
  const std::optional<double> face = board_face_z_mm(setup);
  if (!face || *face - box.low.z <= kRounding_mm)
    return {}; // no cell need be asked
  const std::vector<WallSample>& samples = walls.map.samples;
  double left = std::numeric_limits<double>::infinity(), most = 0;
  Vec3 at;
  // Cell by cell: between its corners a wall may be thinner than at any of them, and its skin lies
  // no farther beyond the board than that of the lowest one.
  for (const Tri& cell : walls.map.cells) {
    double wall = std::numeric_limits<double>::infinity(), thinning = 0, longest2 = 0;
    std::uint32_t lowest = cell[0];
    for (std::size_t i = 0; i < 3; ++i) {
      const WallSample& s = samples[cell[i]];
      wall = std::min(wall, s.wall_mm);
      thinning = std::max(thinning, s.wall_mm - walls.worst_mm[cell[i]]);
      longest2 = std::max(longest2, length_squared(s.at - samples[cell[(i + 1) % 3]].at));
      if (s.at.z < samples[lowest].at.z)
        lowest = cell[i];
    }
    const double beyond = *face - samples[lowest].at.z;
    if (beyond <= kRounding_mm)
      continue;
    most = std::max(most, beyond);
    const double floor = wall > 0 ? distance_floor(wall, longest2) : wall;
    const double here = std::max(floor - thinning, walls.counted_on_mm) - beyond;
    if (here < left) {
      left = here;
      at = samples[lowest].at;
    }
  }
  if (most <= kRounding_mm)
    return {};
  return {{"board-too-thin",
           fmt::format("The board may be {:.2f} mm thinner than the piece is deep under the pocket "
                       "face: there the board's own face is the outer surface, and a wall may be "
                       "as thin as {:.3f} mm, at x {:.1f} y {:.1f} z {:.1f}. Take a thicker board, "
                       "measure it, or draw the piece less deep.",
                       most, left, at.x, at.y, at.z),
           holds && left < limit_mm ? Severity::unproven : Severity::doubt}};
}

void require_thick_enough_board(const Setup& setup, const Box& box, LengthUnit units) {
  const LengthText words{units == LengthUnit::inch};
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
  const auto& f = setup.board.footprint;
  // More than half of it beside the board: what is there is no wall of wood.
  const bool mostly_off = f && 2 * part_inside(box, *f) < 1;
  if (f && (box.low.x < f->low.x || box.high.x > f->high.x || box.low.y < f->low.y ||
            box.high.y > f->high.y))
    notices.push_back({"model-off-board",
                       fmt::format("The model (x {:.1f} to {:.1f}, y {:.1f} to {:.1f} mm) reaches "
                                   "beyond the board (x {:.1f} to {:.1f}, y {:.1f} to {:.1f} mm); "
                                   "check unit, placing and board.",
                                   box.low.x, box.high.x, box.low.y, box.high.y, f->low.x,
                                   f->high.x, f->low.y, f->high.y),
                       mostly_off ? Severity::unproven : Severity::doubt});
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
