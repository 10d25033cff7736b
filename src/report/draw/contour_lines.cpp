#include "report/draw/contour_lines.h"

#include "base/parallel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <unordered_map>
#include <utility>

namespace leastwall {
namespace {

/// `out`: each value of `here` with its two neighbours, which lie in the rows `before` and `after`.
void smooth_row(const double* before, const double* here, const double* after, double* out, int n) {
  for (int x = 0; x < n; ++x) {
    const double h = here[x], a = before[x], b = after[x];
    const bool with_a = a == a, with_b = b == b; // not a number: no neighbour
    const double weight = 2.0 + (with_a ? 1.0 : 0.0) + (with_b ? 1.0 : 0.0);
    out[x] = (2 * h + (with_a ? a : 0.0) + (with_b ? b : 0.0)) / weight;
  }
}

void smooth_once(WallGrid& grid, WallGrid& scratch, bool along_rows) {
  std::swap(grid.value, scratch.value);
  const int width = grid.width;
  for_blocks(
      static_cast<std::size_t>(grid.height), 64, {}, [&](std::size_t begin, std::size_t end) {
        const auto n = static_cast<std::size_t>(width);
        constexpr double kNothing = std::numeric_limits<double>::quiet_NaN();
        std::vector<double> wide(n + 2, kNothing), nothing(n, kNothing);
        for (std::size_t y = begin; y < end; ++y) {
          const double* here = scratch.value.data() + y * n;
          double* out = grid.value.data() + y * n;
          if (along_rows) {
            std::copy(here, here + n, wide.begin() + 1);
            smooth_row(wide.data(), here, wide.data() + 2, out, width);
          } else {
            smooth_row(y > 0 ? here - n : nothing.data(), here,
                       y + 1 < static_cast<std::size_t>(grid.height) ? here + n : nothing.data(),
                       out, width);
          }
        }
      });
}

/// Sides of the squares between pixel centres, each with one number: even from a pixel to its
/// right neighbour, odd to the one below.
using SideId = std::uint64_t;

class Tracer {
 public:
  Tracer(const WallGrid& grid, double level) : g_(grid), level_(level) {}

  std::vector<ContourLine> lines() {
    for (int y = 0; y + 1 < g_.height; ++y)
      for (int x = 0; x + 1 < g_.width; ++x)
        square(x, y);
    std::vector<ContourLine> out;
    std::vector<bool> used(segments_.size(), false);
    // Open lines first, from their ends; what is left over is closed.
    for (const bool ends_only : {true, false})
      for (std::size_t s = 0; s < segments_.size(); ++s)
        if (!used[s]) {
          if (!ends_only)
            out.push_back(follow(segments_[s].first, s, used));
          else if (links_[segments_[s].first].size() == 1)
            out.push_back(follow(segments_[s].first, s, used));
          else if (links_[segments_[s].second].size() == 1)
            out.push_back(follow(segments_[s].second, s, used));
        }
    std::ranges::stable_sort(out, std::greater<>(), &ContourLine::size);
    return out;
  }

 private:
  SideId side(int x, int y, bool down) const {
    return 2 * (static_cast<SideId>(y) * static_cast<SideId>(g_.width) + static_cast<SideId>(x)) +
           (down ? 1 : 0);
  }

  GridPoint point(SideId id) const {
    const int x = static_cast<int>(id / 2 % static_cast<SideId>(g_.width));
    const int y = static_cast<int>(id / 2 / static_cast<SideId>(g_.width));
    const bool down = id % 2 == 1;
    const double a = g_.at(x, y), b = down ? g_.at(x, y + 1) : g_.at(x + 1, y);
    const double along = std::isfinite(a) && std::isfinite(b) ? (level_ - a) / (b - a) : 0.5;
    return {x + 0.5 + (down ? 0 : along), y + 0.5 + (down ? along : 0)};
  }

  void square(int x, int y) {
    const std::array<double, 4> v{g_.at(x, y), g_.at(x + 1, y), g_.at(x + 1, y + 1),
                                  g_.at(x, y + 1)};
    unsigned under = 0;
    for (unsigned i = 0; i < 4; ++i) {
      if (std::isnan(v[i]))
        return;
      under |= v[i] < level_ ? 1u << i : 0u;
    }
    if (under == 0 || under == 15)
      return;
    const std::array<SideId, 4> sides{side(x, y, false), side(x + 1, y, true),
                                      side(x, y + 1, false), side(x, y, true)};
    if (under == 5 || under == 10) {
      const bool middle_under = (v[0] + v[1] + v[2] + v[3]) / 4 < level_;
      if ((under == 5) == middle_under) {
        join(sides[0], sides[1]);
        join(sides[2], sides[3]);
      } else {
        join(sides[3], sides[0]);
        join(sides[1], sides[2]);
      }
      return;
    }
    std::array<SideId, 2> crossed{};
    std::size_t n = 0;
    for (unsigned i = 0; i < 4; ++i)
      if (((under >> i) & 1u) != ((under >> ((i + 1) % 4)) & 1u))
        crossed[n++] = sides[i];
    join(crossed[0], crossed[1]);
  }

  void join(SideId a, SideId b) {
    links_[a].push_back(segments_.size());
    links_[b].push_back(segments_.size());
    segments_.emplace_back(a, b);
  }

  ContourLine follow(SideId from, std::size_t segment, std::vector<bool>& used) {
    ContourLine line{point(from)};
    for (;;) {
      used[segment] = true;
      from =
          segments_[segment].first == from ? segments_[segment].second : segments_[segment].first;
      line.push_back(point(from));
      const std::vector<std::size_t>& next = links_[from];
      const auto free = std::ranges::find_if(next, [&](std::size_t s) { return !used[s]; });
      if (free == next.end())
        return line;
      segment = *free;
    }
  }

  const WallGrid& g_;
  double level_;
  std::vector<std::pair<SideId, SideId>> segments_;
  std::unordered_map<SideId, std::vector<std::size_t>> links_;
};

} // namespace

WallGrid smoothed(WallGrid grid, int rounds) {
  WallGrid scratch = grid;
  for (int i = 0; i < rounds; ++i) {
    smooth_once(grid, scratch, true);
    smooth_once(grid, scratch, false);
  }
  return grid;
}

std::vector<ContourLine> contour_lines(const WallGrid& grid, double level) {
  return Tracer(grid, level).lines();
}

std::vector<std::vector<Point2>> contours_on_board(const WallGrid& grid, double level,
                                                   std::size_t min_points) {
  std::vector<std::vector<Point2>> out;
  for (const ContourLine& line : contour_lines(smoothed(grid, 2), level)) {
    if (line.size() < min_points)
      continue;
    out.emplace_back();
    for (const GridPoint& p : line)
      out.back().push_back(
          {grid.left_mm + p.x * grid.mm_per_px, grid.top_mm - p.y * grid.mm_per_px});
  }
  return out;
}

} // namespace leastwall
