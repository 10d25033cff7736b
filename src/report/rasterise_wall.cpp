#include "report/rasterise_wall.h"

#include "base/parallel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

namespace leastwall {
namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kSteep = 0.17364817766693033; // cos 80 deg: |n_z| of a near-vertical cell

/// A corner in pixel units, y down.
struct Corner {
  double x, y;
};

/// Rows from `first` to `last`.
struct Band {
  int first, last;
};

constexpr std::size_t kCellGrain = 1 << 14;
constexpr int kBandRows = 64, kMostBands = 255; // a band's number fits into a byte

/// a x + b y + c >= 0 inside; `slack` is how far below zero a square of half-width h may reach.
struct Edge {
  double a, b, c, slack;
};

class Raster {
 public:
  explicit Raster(WallGrid& grid) : g_(grid) {
    g_.value.assign(static_cast<std::size_t>(g_.width) * static_cast<std::size_t>(g_.height), kNaN);
  }

  Corner corner(Vec3 p) const {
    return {(p.x - g_.left_mm) / g_.mm_per_px, (g_.top_mm - p.y) / g_.mm_per_px};
  }

  void keep_least(int column, int row, double value) {
    double& slot = g_.value[static_cast<std::size_t>(row) * static_cast<std::size_t>(g_.width) +
                            static_cast<std::size_t>(column)];
    if (!(slot <= value)) // also when the slot is still empty
      slot = value;
  }

  /// Pixels of one axis whose squares, grown by `grow`, meet [low, high].
  static std::pair<int, int> span(double low, double high, double grow, int count) {
    const double first = std::clamp(std::floor(low - grow), 0.0, static_cast<double>(count));
    const double last = std::clamp(std::floor(high + grow), -1.0, count - 1.0);
    return {static_cast<int>(first), static_cast<int>(last)};
  }

  /// Rows of the squares that a cell may reach, steep or not.
  Band rows(const std::array<Corner, 3>& p) const {
    const auto [low, high] = span(std::min({p[0].y, p[1].y, p[2].y}),
                                  std::max({p[0].y, p[1].y, p[2].y}), 1.0, g_.height);
    return {low, high};
  }

  void cell(const std::array<Corner, 3>& p, const std::array<double, 3>& v, bool steep, Band band) {
    const double grow = steep ? 1.0 : 0.0, half = 0.5 + grow;
    const auto [x0, x1] = span(std::min({p[0].x, p[1].x, p[2].x}),
                               std::max({p[0].x, p[1].x, p[2].x}), grow, g_.width);
    auto [y0, y1] = span(std::min({p[0].y, p[1].y, p[2].y}), std::max({p[0].y, p[1].y, p[2].y}),
                         grow, g_.height);
    y0 = std::max(y0, band.first);
    y1 = std::min(y1, band.last);
    if (x0 > x1 || y0 > y1)
      return;
    const double least = std::min({v[0], v[1], v[2]});
    const double area =
        (p[1].x - p[0].x) * (p[2].y - p[0].y) - (p[1].y - p[0].y) * (p[2].x - p[0].x);
    // The straight-line wall over the cell, where it has an area worth the division.
    double gx = 0, gy = 0, dip = 0;
    bool flat = steep || std::abs(area) < 1e-6;
    if (!flat) {
      gx = ((v[1] - v[0]) * (p[2].y - p[0].y) - (v[2] - v[0]) * (p[1].y - p[0].y)) / area;
      gy = ((v[2] - v[0]) * (p[1].x - p[0].x) - (v[1] - v[0]) * (p[2].x - p[0].x)) / area;
      dip = 0.5 * (std::abs(gx) + std::abs(gy));
      flat = !std::isfinite(dip);
    }
    // Separating axes of a triangle and a square: the three edge normals and the square's own two
    // (those are the loop bounds). A triangle without area has edges that face each other and
    // keeps the squares its line passes through.
    const double sign = area < 0 ? -1 : 1;
    std::array<Edge, 3> edges{};
    for (std::size_t i = 0; i < 3; ++i) {
      const Corner q = p[i], r = p[(i + 1) % 3];
      const double a = sign * (q.y - r.y), b = sign * (r.x - q.x);
      edges[i] = {a, b, -(a * q.x + b * q.y), half * (std::abs(a) + std::abs(b))};
    }
    for (int row = y0; row <= y1; ++row)
      for (int column = x0; column <= x1; ++column) {
        const double x = column + 0.5, y = row + 0.5;
        if (std::ranges::any_of(edges,
                                [&](const Edge& e) { return e.a * x + e.b * y + e.c < -e.slack; }))
          continue;
        const double here =
            flat ? least : std::max(least, v[0] + gx * (x - p[0].x) + gy * (y - p[0].y) - dip);
        keep_least(column, row, here);
      }
  }

  void spot(Corner p, double value) {
    const auto [x0, x1] = span(p.x, p.x, 1.0, g_.width);
    const auto [y0, y1] = span(p.y, p.y, 1.0, g_.height);
    for (int row = y0; row <= y1; ++row)
      for (int column = x0; column <= x1; ++column)
        keep_least(column, row, value);
  }

 private:
  WallGrid& g_;
};

} // namespace

void rasterise_wall(const WallMap& map, std::span<const double> values_mm, WallGrid& grid) {
  Raster raster(grid);
  const auto corners = [&](const Tri& t) {
    return std::array{raster.corner(map.samples[t[0]].at), raster.corner(map.samples[t[1]].at),
                      raster.corner(map.samples[t[2]].at)};
  };
  // Each band of rows is filled by one thread, from the cells that reach into it.
  const std::size_t n = map.cells.size();
  const int band_rows = std::max(kBandRows, (grid.height + kMostBands - 1) / kMostBands);
  struct Reach {
    std::uint8_t first = 1, last = 0; // bands; none
  };
  std::vector<Reach> reach(n);
  for_blocks(n, kCellGrain, {}, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      const Band rows = raster.rows(corners(map.cells[k]));
      if (rows.first <= rows.last)
        reach[k] = {static_cast<std::uint8_t>(rows.first / band_rows),
                    static_cast<std::uint8_t>(rows.last / band_rows)};
    }
  });
  const int bands = (grid.height + band_rows - 1) / band_rows;
  for_blocks(static_cast<std::size_t>(bands), 1, {}, [&](std::size_t b, std::size_t) {
    const int first = static_cast<int>(b) * band_rows;
    const Band band{first, std::min(first + band_rows, grid.height) - 1};
    for (std::size_t k = 0; k < n; ++k) {
      if (b < reach[k].first || b > reach[k].last)
        continue;
      const Tri& t = map.cells[k];
      const std::array<double, 3> v{values_mm[t[0]], values_mm[t[1]], values_mm[t[2]]};
      if (std::isnan(v[0]) || std::isnan(v[1]) || std::isnan(v[2]))
        continue;
      const Vec3 a = map.samples[t[0]].at;
      const Vec3 normal = cross(map.samples[t[1]].at - a, map.samples[t[2]].at - a);
      const bool steep = normal.z * normal.z <= kSteep * kSteep * length_squared(normal);
      raster.cell(corners(t), v, steep, band);
    }
  });
  for (const WallMap::Spot& s : map.spots)
    if (!std::isnan(values_mm[s.sample]))
      raster.spot(raster.corner(map.samples[s.sample].at), values_mm[s.sample]);
}

} // namespace leastwall
