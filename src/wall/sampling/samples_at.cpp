#include "wall/sampling/samples_at.h"

#include "base/parallel.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 1 << 13;
constexpr double kFar = 1e300;

/// Places sorted into squares of a grid.
class PlaceGrid {
 public:
  explicit PlaceGrid(std::span<const Point2> places) : places_(places) {
    low_ = high_ = places[0];
    for (const Point2 p : places) {
      low_ = {std::min(low_.x, p.x), std::min(low_.y, p.y)};
      high_ = {std::max(high_.x, p.x), std::max(high_.y, p.y)};
    }
    side_ = static_cast<std::size_t>(std::sqrt(static_cast<double>(places.size()))) + 1;
    step_ = {std::max((high_.x - low_.x) / static_cast<double>(side_), 1e-9),
             std::max((high_.y - low_.y) / static_cast<double>(side_), 1e-9)};
    squares_.resize(side_ * side_);
    for (std::uint32_t i = 0; i < places.size(); ++i)
      squares_[row(places[i].y) * side_ + column(places[i].x)].push_back(i);
  }

  /// Calls visit(place) for those that may lie over or under triangle abc. In each row only the
  /// squares that it passes through are looked at: long slanting triangles have wide boxes.
  template <class Visit> void near(Vec3 a, Vec3 b, Vec3 c, const Visit& visit) const {
    const double low_y = std::min({a.y, b.y, c.y}), high_y = std::max({a.y, b.y, c.y});
    if (std::min({a.x, b.x, c.x}) > high_.x || low_y > high_.y ||
        std::max({a.x, b.x, c.x}) < low_.x || high_y < low_.y)
      return;
    for (std::size_t j = row(low_y); j <= row(high_y); ++j) {
      // A hair wider than the row, and the outermost ones without an end.
      const double hair = 1e-6 * step_.y;
      const double from = j == 0 ? -kFar : low_.y + static_cast<double>(j) * step_.y - hair;
      const double to =
          j + 1 == side_ ? kFar : low_.y + static_cast<double>(j + 1) * step_.y + hair;
      double least = kFar, most = -kFar;
      for (const auto& [p, q] : {std::pair{a, b}, std::pair{b, c}, std::pair{c, a}})
        if (std::min(p.y, q.y) <= to && std::max(p.y, q.y) >= from)
          for (const double y : {std::clamp(p.y, from, to), std::clamp(q.y, from, to)}) {
            const double x = p.y == q.y || y == p.y ? p.x
                             : y == q.y             ? q.x
                                                    : p.x + (q.x - p.x) * ((y - p.y) / (q.y - p.y));
            least = std::min(least, p.y == q.y ? std::min(p.x, q.x) : x);
            most = std::max(most, p.y == q.y ? std::max(p.x, q.x) : x);
          }
      if (least > most)
        continue;
      const double beside = 1e-6 * step_.x;
      for (std::size_t i = column(least - beside); i <= column(most + beside); ++i)
        for (const std::uint32_t k : squares_[j * side_ + i])
          visit(places_[k]);
    }
  }

 private:
  std::size_t at(double along, double step) const {
    return static_cast<std::size_t>(std::clamp(along / step, 0.0, static_cast<double>(side_ - 1)));
  }
  std::size_t column(double x) const { return at(x - low_.x, step_.x); }
  std::size_t row(double y) const { return at(y - low_.y, step_.y); }

  std::span<const Point2> places_;
  Point2 low_, high_, step_;
  std::size_t side_ = 1;
  std::vector<std::vector<std::uint32_t>> squares_;
};

/// The point of triangle abc over or under p; absent beside it, and where it stands upright.
std::optional<Vec3> on_triangle(Vec3 a, Vec3 b, Vec3 c, Point2 p) {
  const double area = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
  const double in_space = length(cross(b - a, c - a));
  if (!(std::abs(area) > 1e-6 * in_space))
    return std::nullopt;
  const double v = ((p.x - a.x) * (c.y - a.y) - (c.x - a.x) * (p.y - a.y)) / area;
  const double w = ((b.x - a.x) * (p.y - a.y) - (p.x - a.x) * (b.y - a.y)) / area;
  constexpr double kHair = 1e-9;
  if (v < -kHair || w < -kHair || v + w > 1 + kHair)
    return std::nullopt;
  return a + (b - a) * v + (c - a) * w;
}

} // namespace

void add_samples_at(WallMap& map, std::span<const Point2> places, const WallProbe& probe,
                    double below_mm, std::optional<double> face_z_mm, const RunContext& run) {
  if (places.empty())
    return;
  const PlaceGrid grid(places);
  struct Added {
    WallSample sample;
    std::uint32_t cell;
  };
  std::vector<std::vector<Added>> parts((map.cells.size() + kGrain - 1) / kGrain);
  for_blocks(map.cells.size(), kGrain, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      const Tri& t = map.cells[k];
      const WallSample &a = map.samples[t[0]], &b = map.samples[t[1]], &c = map.samples[t[2]];
      double least = std::min({a.wall_mm, b.wall_mm, c.wall_mm});
      if (face_z_mm)
        least = std::min(least, *face_z_mm - std::max({a.at.z, b.at.z, c.at.z}));
      if (!(least < below_mm))
        continue;
      grid.near(a.at, b.at, c.at, [&](Point2 p) {
        if (const auto at = on_triangle(a.at, b.at, c.at, p))
          parts[begin / kGrain].push_back(
              {probe.read(*at, cross(b.at - a.at, c.at - a.at), std::nullopt).sample,
               static_cast<std::uint32_t>(k)});
      });
    }
  });
  for (const std::vector<Added>& part : parts)
    for (const Added& added : part) {
      map.minima.push_back({static_cast<std::uint32_t>(map.samples.size()), added.cell});
      map.samples.push_back(added.sample);
    }
}

} // namespace leastwall
