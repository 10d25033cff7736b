#include "report/draw/rasterise_wall.h"

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
constexpr int kBandRows = 64, kMaxBands = 255; // a band's number fits into a byte

/// a x + b y + c >= 0 inside; `slack` is how far below zero a square of half-width h may reach.
struct Edge {
  double a, b, c, slack;
};

class Raster {
 public:
  explicit Raster(std::span<const WallLayer> layers) : layers_(layers), g_(*layers[0].grid) {
    for (const WallLayer& layer : layers_)
      layer.grid->value.assign(
          static_cast<std::size_t>(g_.width) * static_cast<std::size_t>(g_.height), kNaN);
  }

  Corner corner(Vec3 p) const {
    return {(p.x - g_.left_mm) / g_.mm_per_px, (g_.top_mm - p.y) / g_.mm_per_px};
  }

  std::size_t place(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(g_.width) +
           static_cast<std::size_t>(column);
  }

  static void keep_least(double& slot, double value) {
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

  void cell(const Tri& t, const std::array<Corner, 3>& p, bool steep, Band band) {
    const double grow = steep ? 1.0 : 0.0, half = 0.5 + grow;
    const auto [x0, x1] = span(std::min({p[0].x, p[1].x, p[2].x}),
                               std::max({p[0].x, p[1].x, p[2].x}), grow, g_.width);
    auto [y0, y1] = span(std::min({p[0].y, p[1].y, p[2].y}), std::max({p[0].y, p[1].y, p[2].y}),
                         grow, g_.height);
    y0 = std::max(y0, band.first);
    y1 = std::min(y1, band.last);
    if (x0 > x1 || y0 > y1)
      return;
    const double area =
        (p[1].x - p[0].x) * (p[2].y - p[0].y) - (p[1].y - p[0].y) * (p[2].x - p[0].x);
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
    for (const WallLayer& layer : layers_) {
      const Slope slope(p, {layer.values_mm[t[0]], layer.values_mm[t[1]], layer.values_mm[t[2]]},
                        area, steep);
      if (slope.empty())
        continue;
      for (int row = y0; row <= y1; ++row)
        for (int column = x0; column <= x1; ++column) {
          const double x = column + 0.5, y = row + 0.5;
          if (!std::ranges::any_of(
                  edges, [&](const Edge& e) { return e.a * x + e.b * y + e.c < -e.slack; }))
            keep_least(layer.grid->value[place(column, row)], slope.least_about(x, y));
        }
    }
  }

  void minimum(Corner p, std::uint32_t sample) {
    const auto [x0, x1] = span(p.x, p.x, 1.0, g_.width);
    const auto [y0, y1] = span(p.y, p.y, 1.0, g_.height);
    for (const WallLayer& layer : layers_)
      if (const double value = layer.values_mm[sample]; !std::isnan(value))
        for (int row = y0; row <= y1; ++row)
          for (int column = x0; column <= x1; ++column)
            keep_least(layer.grid->value[place(column, row)], value);
  }

 private:
  /// The wall over a cell.
  class Slope {
   public:
    Slope(const std::array<Corner, 3>& p, const std::array<double, 3>& v, double area, bool steep)
        : v_(v), from_(p[0]), least_(std::min({v[0], v[1], v[2]})) {
      // It runs straight where the cell has an area worth the division.
      flat_ = steep || std::abs(area) < 1e-6;
      if (flat_)
        return;
      gx_ = ((v[1] - v[0]) * (p[2].y - p[0].y) - (v[2] - v[0]) * (p[1].y - p[0].y)) / area;
      gy_ = ((v[2] - v[0]) * (p[1].x - p[0].x) - (v[1] - v[0]) * (p[2].x - p[0].x)) / area;
      dip_ = 0.5 * (std::abs(gx_) + std::abs(gy_));
      flat_ = !std::isfinite(dip_);
    }
    bool empty() const { return std::isnan(v_[0]) || std::isnan(v_[1]) || std::isnan(v_[2]); }
    /// On the square about (x, y).
    double least_about(double x, double y) const {
      return flat_ ? least_
                   : std::max(least_, v_[0] + gx_ * (x - from_.x) + gy_ * (y - from_.y) - dip_);
    }

   private:
    std::array<double, 3> v_;
    Corner from_;
    double least_, gx_ = 0, gy_ = 0, dip_ = 0;
    bool flat_ = true;
  };

  std::span<const WallLayer> layers_;
  const WallGrid& g_; // the frame of all
};

} // namespace

void rasterise_wall(const WallMap& map, std::span<const double> values_mm, WallGrid& grid) {
  const WallLayer layer{values_mm, &grid};
  rasterise_wall(map, std::span(&layer, 1));
}

void rasterise_wall(const WallMap& map, std::span<const WallLayer> layers) {
  Raster raster(layers);
  const WallGrid& grid = *layers[0].grid;
  const auto corners = [&](const Tri& t) {
    return std::array{raster.corner(map.samples[t[0]].at), raster.corner(map.samples[t[1]].at),
                      raster.corner(map.samples[t[2]].at)};
  };
  // Each band of rows is filled by one thread, from the cells that reach into it.
  const std::size_t n = map.cells.size();
  const int band_rows = std::max(kBandRows, (grid.height + kMaxBands - 1) / kMaxBands);
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
      const Vec3 a = map.samples[t[0]].at;
      const Vec3 normal = cross(map.samples[t[1]].at - a, map.samples[t[2]].at - a);
      const bool steep = normal.z * normal.z <= kSteep * kSteep * length_squared(normal);
      raster.cell(t, corners(t), steep, band);
    }
  });
  for (const WallMap::Minimum& s : map.minima)
    raster.minimum(raster.corner(map.samples[s.sample].at), s.sample);
}

WallGrid grid_about(const Box& box, int width, int max_height, double rim_px) {
  WallGrid grid;
  grid.width = width;
  grid.mm_per_px = std::max(
      {box.size().x / (width - 2 * rim_px), box.size().y / (max_height - 2 * rim_px), 1e-6});
  grid.height = static_cast<int>(std::ceil(box.size().y / grid.mm_per_px + 2 * rim_px));
  grid.left_mm = box.middle().x - grid.width / 2.0 * grid.mm_per_px;
  grid.top_mm = box.middle().y + grid.height / 2.0 * grid.mm_per_px;
  return grid;
}

} // namespace leastwall
