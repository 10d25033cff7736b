#include "budget/pad/pad_place.h"

#include "base/maths/hypot.h"
#include "budget/advice/plan_room.h"
#include "budget/effects/cut_area.h"
#include "setup/place.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace leastwall {
namespace {

constexpr double kMargin_mm = 3; // wood that stays between the pad and the part
constexpr double kRim_mm = 2;    // and to the edge of the board
constexpr double kPlate_mm = 8;  // room round a touch point or the middle of a dowel
constexpr int kAlong = 8;        // places along one edge

/// From the edge of the pad; 0 under it.
double off_pad(Point2 pad, double x, double y) {
  const double half = kPadSize_mm / 2;
  return maths::hypot(std::max(0.0, std::abs(x - pad.x) - half),
                      std::max(0.0, std::abs(y - pad.y) - half));
}

/// Corners first, then the places between them.
std::vector<Point2> places_along_edge(const Footprint& board) {
  const double half = kPadSize_mm / 2 + kRim_mm;
  const Point2 middle = board.middle();
  const Point2 low{std::min(board.low.x + half, middle.x), std::min(board.low.y + half, middle.y)};
  const Point2 high{std::max(board.high.x - half, middle.x),
                    std::max(board.high.y - half, middle.y)};
  std::vector<Point2> out{low, {high.x, low.y}, {low.x, high.y}, high};
  for (int i = 1; i < kAlong; ++i) {
    const double f = static_cast<double>(i) / kAlong;
    const double x = low.x + f * (high.x - low.x), y = low.y + f * (high.y - low.y);
    for (const Point2 p : {Point2{x, low.y}, {x, high.y}, {low.x, y}, {high.x, y}})
      out.push_back(p);
  }
  return out;
}

} // namespace

bool pad_clear_of_part(std::span<const WallSample> samples, std::span<const Tri> cells, Point2 at) {
  return !square_meets_part(samples, cells, at, kPadSize_mm / 2 + kMargin_mm);
}

PadPlace pad_place(const Setup& setup, std::span<const WallSample> samples,
                   std::span<const Tri> cells) {
  const Footprint& board = *setup.board.footprint;
  std::vector<Point2> keep_clear = dowel_places(setup.flip, board.middle());
  for (const SideSetup* side : {&setup.inner, &setup.outer})
    keep_clear.push_back(side->touch_point.value_or(board.middle()));

  PadPlace best{board.low, false};
  double most = -kPlate_mm;
  for (const Point2 p : places_along_edge(board)) {
    double least = std::numeric_limits<double>::infinity();
    for (const Point2 q : keep_clear)
      least = std::min(least, off_pad(p, q.x, q.y) + kMargin_mm - kPlate_mm);
    if (cut_there(samples, p, 0)) // between samples far apart
      least = 0;
    for (const WallSample& s : samples) {
      if (least <= most)
        break;
      least = std::min(least, off_pad(p, s.at.x, s.at.y));
    }
    if (least >= kMargin_mm && !pad_clear_of_part(samples, cells, p)) // a facet between samples
      least = 0;
    if (least >= kMargin_mm)
      return {p, true};
    if (least > most) {
      most = least;
      best.at = p;
    }
  }
  return best;
}

} // namespace leastwall
