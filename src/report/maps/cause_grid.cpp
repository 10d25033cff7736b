#include "report/maps/cause_grid.h"

#include "base/errors.h"
#include "report/words/cause_text.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace leastwall {
namespace {

/// A third of the area of the cells around each sample, seen from above counts as it is on the
/// skin.
std::vector<double> area_of_samples(const WallMap& map) {
  std::vector<double> area(map.samples.size(), 0);
  for (const Tri& t : map.cells) {
    const Vec3 a = map.samples[t[0]].at, b = map.samples[t[1]].at, c = map.samples[t[2]].at;
    const double third = length(cross(b - a, c - a)) / 6;
    for (const std::uint32_t i : t)
      area[i] += third;
  }
  return area;
}

std::string name_of(const CauseRow& cause) {
  if (!cause.id.side)
    return cause_text(cause.id);
  return cause_text(cause.id) + (*cause.id.side == Side::a ? ", side A" : ", side B");
}

/// Number of the cause at a sample; the number of causes where there is none.
std::size_t cause_at(const Budget& budget, std::size_t sample) {
  return std::min<std::size_t>(budget.worst_cause[sample], budget.causes.size());
}

} // namespace

CauseRanking rank_causes(const WallMap& map, const Budget& budget) {
  if (budget.worst_cause.size() != map.samples.size())
    throw RunError("map of causes: the number of causes differs from the number of samples; please "
                   "keep the meshes and report it as a fault of leastwall");
  const std::size_t causes = budget.causes.size();
  const std::vector<double> area = area_of_samples(map);
  std::vector<double> by_cause(causes + 1, 0);
  for (std::size_t i = 0; i < area.size(); ++i)
    by_cause[cause_at(budget, i)] += area[i];
  const double whole = std::max(std::accumulate(by_cause.begin(), by_cause.end(), 0.0),
                                std::numeric_limits<double>::min());

  std::vector<std::size_t> order(causes);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, [&](auto a, auto b) { return by_cause[a] > by_cause[b]; });
  CauseRanking out;
  out.none_share = by_cause[causes] / whole;
  out.style_of.assign(causes + 1, kOtherCauses);
  out.style_of[causes] = kNoCauseStyle;
  for (const std::size_t cause : order) {
    if (!(by_cause[cause] > 0))
      break;
    if (out.shown.size() < kCauseStyles) {
      out.style_of[cause] = out.shown.size();
      out.shown.push_back({name_of(budget.causes[cause]), by_cause[cause] / whole});
    } else {
      out.other_share += by_cause[cause] / whole;
    }
  }

  return out;
}

CauseGrid cause_grid(const WallMap& map, const Budget& budget, const CauseRanking& ranking,
                     const WallGrid& frame) {
  CauseGrid out;
  out.width = frame.width;
  out.height = frame.height;
  // A pixel goes to the cause with most weight in the cell that it shows: 0 at its samples, 1 at
  // all others, straight between.
  const std::size_t pixels =
      static_cast<std::size_t>(frame.width) * static_cast<std::size_t>(frame.height);
  out.style.assign(pixels, static_cast<std::uint8_t>(kNotMeasuredStyle));
  std::vector<double> nearest(pixels, std::numeric_limits<double>::infinity());
  std::vector<double> values(map.samples.size());
  for (std::size_t style = 0; style <= kNoCauseStyle; ++style) {
    bool any = false;
    for (std::size_t i = 0; i < values.size(); ++i) {
      const bool own = ranking.style_of[cause_at(budget, i)] == style;
      values[i] = own ? 0 : 1;
      any = any || own;
    }
    if (!any)
      continue;
    WallGrid grid = frame;
    rasterise_wall(map, values, grid);
    for (std::size_t i = 0; i < pixels; ++i)
      if (grid.value[i] < nearest[i]) {
        nearest[i] = grid.value[i];
        out.style[i] = static_cast<std::uint8_t>(style);
      }
  }
  return out;
}

std::vector<std::optional<PicturePoint>> letter_places(const CauseGrid& grid, int least_px) {
  const int w = grid.width, h = grid.height;
  const auto slot = [w](int x, int y) {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(w) + static_cast<std::size_t>(x);
  };
  // Steps (also slantwise) to the nearest pixel of another style or the rim, in two sweeps.
  std::vector<int> depth(grid.style.size(), std::numeric_limits<int>::max() / 2);
  const auto from = [&](int x, int y, int nx, int ny) {
    int& d = depth[slot(x, y)];
    if (nx < 0 || ny < 0 || nx >= w || ny >= h ||
        grid.style[slot(nx, ny)] != grid.style[slot(x, y)])
      d = std::min(d, 1);
    else
      d = std::min(d, depth[slot(nx, ny)] + 1);
  };
  for (int y = 0; y < h; ++y)
    for (int x = 0; x < w; ++x) {
      from(x, y, x - 1, y);
      for (const int step : {-1, 0, 1})
        from(x, y, x + step, y - 1);
    }
  for (int y = h - 1; y >= 0; --y)
    for (int x = w - 1; x >= 0; --x) {
      from(x, y, x + 1, y);
      for (const int step : {-1, 0, 1})
        from(x, y, x + step, y + 1);
    }
  std::vector<std::optional<PicturePoint>> out(kOtherCauses + 1);
  std::vector<int> deepest(kOtherCauses + 1, least_px - 1);
  for (int y = 0; y < h; ++y)
    for (int x = 0; x < w; ++x) {
      const std::size_t style = grid.style[slot(x, y)];
      if (style <= kOtherCauses && depth[slot(x, y)] > deepest[style]) {
        deepest[style] = depth[slot(x, y)];
        out[style] = PicturePoint{x + 0.5, y + 0.5};
      }
    }
  return out;
}

} // namespace leastwall
