#include "budget/advice/touch_search.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "bed/bed_map.h"
#include "bed/readings_lookup.h"
#include "budget/effects/cut_area.h"
#include "budget/effects/spread.h"
#include "causes/causes.h"
#include "causes/model/cause_terms.h"
#include "setup/place.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <numeric>
#include <string>

namespace leastwall {
namespace {

constexpr std::size_t kThin = 32;     // places that stand for the piece
constexpr std::size_t kComputed = 8;  // candidates that are computed, not only looked at
constexpr std::size_t kReadings = 48; // readings beside the board that are tried
constexpr int kPerSide = 8;           // places along one side of a ring
constexpr double kSame = 1e-6;        // mm: no better

bool inside(const Footprint& f, Point2 p, double by) {
  return p.x >= f.low.x + by && p.x <= f.high.x - by && p.y >= f.low.y + by && p.y <= f.high.y - by;
}

/// Along the rectangle `out` outside (negative: inside) of the board, the middles of its sides
/// first.
void add_ring(const Footprint& f, double out, std::vector<Point2>& to) {
  const Point2 l{f.low.x - out, f.low.y - out}, h{f.high.x + out, f.high.y + out};
  if (!(l.x < h.x && l.y < h.y))
    return;
  for (int i = 0; i < kPerSide; ++i) {
    // 1/2 first, then to both sides of it; the corners come once.
    const double along = 0.5 + (i % 2 == 0 ? 0.5 : -0.5) * ((i + 1) / 2) * 2 / kPerSide;
    const double x = std::lerp(l.x, h.x, along), y = std::lerp(l.y, h.y, along);
    for (const Point2 p :
         {Point2{l.x, y}, Point2{h.x, l.y + h.y - y}, Point2{l.x + h.x - x, l.y}, Point2{x, h.y}})
      to.push_back(p);
  }
}

/// The part's point that lies at `on_bed` on this side.
Point2 part_place(const Setup& setup, Side side, Point2 on_bed) {
  Point2 p{on_bed.x - setup.bed.part_origin_mm.x, on_bed.y - setup.bed.part_origin_mm.y};
  if (side == Side::b)
    p = on_line(setup.flip, -across_line(setup.flip, p), along_line(setup.flip, p));
  return p;
}

/// How much thicker every wall comes out by touching there, mm: the height that is touched.
double height_touched(const Setup& setup, Side side, Point2 p) {
  double sum = 0;
  if (setup.bed.readings) {
    const Point2 on_bed = bed_place(setup, side, p);
    sum += height_or_lowest(*setup.bed.readings, on_bed);
  }
  if (side_of(setup, side).zero == ZeroFrom::bed)
    return sum;
  if (setup.board.thickness_readings)
    sum += height_or_lowest(*setup.board.thickness_readings, p);
  if (side == Side::b && setup.board.resin_cup_mm != 0) { // highest in the middle (resin_cup.h)
    const Footprint& f = *setup.board.footprint;
    const Point2 m = f.middle(), to{p.x - m.x, p.y - m.y}, h{f.high.x - m.x, f.high.y - m.y};
    sum -= setup.board.resin_cup_mm * (to.x * to.x + to.y * to.y) / (h.x * h.x + h.y * h.y);
  }
  return sum;
}

} // namespace

Point2 in_tenths(Point2 p) {
  const auto tenths = [](double v) { return std::round(v * 10) / 10 + 0.0; };
  return {tenths(p.x), tenths(p.y)};
}

std::string point_text(Point2 p) {
  const Point2 t = in_tenths(p);
  const bool whole = std::abs(p.x - t.x) < 1e-9 && std::abs(p.y - t.y) < 1e-9;
  return whole ? fmt::format("x {:.1f} y {:.1f}", t.x, t.y)
               : fmt::format("x {:.3f} y {:.3f}", p.x, p.y);
}

TouchSearch::TouchSearch(const Setup& setup, std::span<const WallSample> samples, Point2 thinnest,
                         bool board_stated)
    : samples_(samples), thinnest_(thinnest), board_stated_(board_stated) {
  std::vector<Assumption> ignored;
  const std::vector<Cause> causes = causes_of(setup, ignored);
  const Limits limits(causes);
  std::vector<double> worst;
  worst.reserve(samples.size());
  for (const WallSample& s : samples) {
    const Limits::At sum = limits.at(s);
    worst.push_back(s.wall_mm + sum.shift - sum.half_width);
  }
  std::vector<std::size_t> order(samples.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const std::size_t take = std::min(kThin, order.size());
  std::partial_sort(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(take), order.end(),
                    [&](std::size_t p, std::size_t q) {
                      return worst[p] < worst[q] || (worst[p] == worst[q] && p < q);
                    });
  for (std::size_t i = 0; i < take; ++i)
    thin_.push_back(samples[order[i]]);
}

bool TouchSearch::matters(const Setup& setup, Side side) {
  const bool top = side_of(setup, side).zero == ZeroFrom::top;
  return setup.bed.readings || (top && setup.board.thickness_readings) ||
         (top && side == Side::b && setup.board.resin_cup_mm != 0);
}

bool TouchSearch::cut(Point2 at) const {
  const auto [found, fresh] = cut_.try_emplace({at.x, at.y}, false);
  if (fresh)
    found->second = cut_there(samples_, at, kFromEdge);
  return found->second;
}

bool TouchSearch::can_touch(const Setup& setup, Side side, Point2 at) const {
  const Footprint& f = *setup.board.footprint;
  if (setup.bed.readings) {
    const Point2 on_bed = bed_place(setup, side, at);
    if (!setup.bed.readings->height_mm(on_bed.x, on_bed.y))
      return false;
  }
  const SideSetup& s = side_of(setup, side);
  if (s.zero == ZeroFrom::bed)
    return board_stated_ && !(at.x > f.low.x - kFromEdge && at.x < f.high.x + kFromEdge &&
                              at.y > f.low.y - kFromEdge && at.y < f.high.y + kFromEdge);
  if (!inside(f, at, kFromEdge))
    return false;
  if (setup.board.thickness_readings && !setup.board.thickness_readings->height_mm(at.x, at.y))
    return false;
  if (dowel_distance(setup.flip, f.middle(), at) < kFromDowel)
    return false;
  // With a tool setter one bit touches the datum, before this side is cut.
  return s.bit.zero == BitZero::tool_setter || !cut(at);
}

std::vector<Point2> TouchSearch::candidates(const Setup& setup, std::span<const Side> sides) const {
  std::vector<Point2> stated, all;
  const auto add_stated = [&](Side side) {
    if (const auto& p = side_of(setup, side).touch_point)
      stated.push_back(*p);
  };
  for (const Side side : {Side::a, Side::b}) // the other side's first, then the own one
    if (sides.size() == 2 || side != sides[0])
      add_stated(side);
  if (sides.size() == 1)
    add_stated(sides[0]);
  const Footprint& f = *setup.board.footprint;
  if (side_of(setup, sides[0]).zero == ZeroFrom::bed) {
    for (const double out : {10.0, 4.0, 25.0})
      add_ring(f, out, all);
    if (setup.bed.readings) {
      const std::vector<Vec3>& read = setup.bed.readings->points();
      for (std::size_t i = 0; i < read.size(); i += read.size() / kReadings + 1)
        all.push_back(part_place(setup, sides[0], {read[i].x, read[i].y}));
    }
  } else {
    for (const double in : {5.0, 12.0})
      add_ring(f, -in, all);
    all.push_back(thinnest_);
    all.push_back(f.middle());
  }
  for (Point2& p : all)
    p = in_tenths(p);
  all.insert(all.begin(), stated.begin(), stated.end());
  std::vector<Point2> good;
  for (const Point2& at : all)
    if (std::find(good.begin(), good.end(), at) == good.end() &&
        std::ranges::all_of(sides, [&](Side side) { return can_touch(setup, side, at); }))
      good.push_back(at);
  return good;
}

double TouchSearch::worst_wall(const Setup& setup) const {
  std::vector<Assumption> ignored;
  std::vector<Cause> causes;
  try {
    causes = causes_of(setup, ignored);
  } catch (const InputError&) { // it needs a value that no one stated
    return -std::numeric_limits<double>::infinity();
  }
  const Limits limits(causes);
  double least = std::numeric_limits<double>::infinity();
  for (const WallSample& s : thin_) {
    const Limits::At sum = limits.at(s);
    least = std::min(least, s.wall_mm + sum.shift - sum.half_width);
  }
  return least;
}

std::optional<Point2> TouchSearch::best_of(const Setup& setup, std::span<const Side> sides) const {
  const std::vector<Point2> good = candidates(setup, sides);
  if (good.empty())
    return std::nullopt;
  if (std::ranges::none_of(sides, [&](Side side) { return matters(setup, side); }))
    return good.front();
  std::vector<double> height;
  for (const Point2& p : good) {
    double sum = 0;
    for (const Side side : sides)
      sum += height_touched(setup, side, p);
    height.push_back(sum);
  }
  // The first two (what is stated) and the highest.
  std::vector<std::size_t> order(good.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const std::ptrdiff_t kept = std::min<std::ptrdiff_t>(2, std::ssize(order));
  std::stable_sort(order.begin() + kept, order.end(),
                   [&](std::size_t p, std::size_t q) { return height[p] > height[q]; });
  order.resize(std::min(order.size(), kComputed));
  std::optional<Point2> best;
  double most = 0;
  for (const std::size_t i : order) {
    Setup tried = setup;
    for (const Side side : sides)
      (side == Side::a ? tried.inner : tried.outer).touch_point = good[i];
    const double wall = worst_wall(tried);
    if (!best || wall > most + kSame) {
      best = good[i];
      most = wall;
    }
  }
  return best;
}

std::optional<Point2> TouchSearch::best(const Setup& setup, Side side) const {
  return best_of(setup, std::array{side});
}

std::optional<Point2> TouchSearch::best_for_both(const Setup& setup) const {
  return best_of(setup, std::array{Side::a, Side::b});
}

} // namespace leastwall
