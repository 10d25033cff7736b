#include "report/draw/wall_pixels.h"

#include "base/parallel.h"
#include "budget/effects/verdict.h"
#include "report/draw/colour_map.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leastwall {
namespace {

constexpr Rgb kOutline{40, 40, 40};
constexpr Rgb kDots{140, 140, 140};

Rgb mix(Rgb below, Rgb above, double cover) {
  const auto channel = [cover](std::uint8_t b, std::uint8_t a) {
    return static_cast<std::uint8_t>(std::lround(b + (a - b) * cover));
  };
  return {channel(below.r, above.r), channel(below.g, above.g), channel(below.b, above.b)};
}

/// How much of a pixel a line of this half-width covers at this distance from its middle, px.
double cover(double distance, double half_width) {
  return std::clamp(half_width + 0.5 - distance, 0.0, 1.0);
}

/// Distance from (x, y) to the nearest of the 45 degree lines `period` px apart (across the lines).
double line_distance(int x, int y, bool rising, double period) {
  const double along = (rising ? x + y : x - y) / std::sqrt(2.0);
  return std::abs(along - period * std::round(along / period));
}

Rgb hatch(Rgb base, int x, int y, bool rising, double period, double half_width, double rim) {
  const double d = line_distance(x, y, rising, period);
  return mix(mix(base, kBlack, cover(d, half_width + rim)), kWhite, cover(d, half_width));
}

using Mask = std::vector<char>;

template <class Body> void each_row(int height, const Body& body) {
  for_blocks(static_cast<std::size_t>(height), 32, {}, [&](std::size_t begin, std::size_t end) {
    for (std::size_t y = begin; y < end; ++y)
      body(static_cast<int>(y));
  });
}

/// Grows a mask by `radius` pixels along rows and columns (a square brush).
Mask grown(const Mask& mask, int width, int height, int radius) {
  if (std::ranges::find(mask, 1) == mask.end())
    return mask;
  Mask rows(mask.size(), 0), out(mask.size(), 0);
  const auto slot = [width](int x, int y) {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
           static_cast<std::size_t>(x);
  };
  each_row(height, [&](int y) {
    for (int x = 0; x < width; ++x)
      if (mask[slot(x, y)]) { // the pixels before it are marked already where its left one was
        const bool goes_on = x > 0 && mask[slot(x - 1, y)] && x + radius < width;
        for (int i = goes_on ? x + radius : std::max(0, x - radius);
             i <= std::min(width - 1, x + radius); ++i)
          rows[slot(i, y)] = 1;
      }
  });
  each_row(height, [&](int y) {
    for (int from = std::max(0, y - radius); from <= std::min(height - 1, y + radius); ++from)
      for (int x = 0; x < width; ++x)
        out[slot(x, y)] |= rows[slot(x, from)];
  });
  return out;
}

} // namespace

WallZone wall_zone(double expected_mm, double worst_mm, double limit_mm) {
  if (std::isnan(expected_mm))
    return WallZone::none;
  if (expected_mm <= 0)
    return WallZone::cut;
  limit_mm -= kLimitTolerance_mm;
  if (expected_mm < limit_mm)
    return WallZone::thin;
  return worst_mm < limit_mm ? WallZone::at_risk : WallZone::holds;
}

Rgb zone_pixel(WallZone zone, double expected_mm, int x, int y, double unit) {
  switch (zone) {
  case WallZone::none: {
    const double period = 20 * unit;
    const double dx = x - period * std::round(x / period), dy = y - period * std::round(y / period);
    const double radius = 1.8 * unit;
    if (std::max(std::abs(dx), std::abs(dy)) > radius + 1)
      return kWhite;
    return mix(kWhite, kDots, cover(std::hypot(dx, dy), radius));
  }
  case WallZone::holds:
    return wall_colour(expected_mm);
  case WallZone::at_risk:
    return hatch(wall_colour(expected_mm), x, y, false, 32 * unit, 1.5 * unit, 1.5 * unit);
  case WallZone::thin:
    return hatch(wall_colour(expected_mm), x, y, true, 11 * unit, 1.4 * unit, 1.3 * unit);
  case WallZone::cut:
    break;
  }
  const double d =
      std::min(line_distance(x, y, true, 18 * unit), line_distance(x, y, false, 18 * unit));
  return mix(kBlack, kWhite, cover(d, 1.5 * unit));
}

PixelImage wall_pixels(const WallGrid& expected, const WallGrid& worst, double limit_mm,
                       double unit) {
  const int width = expected.width, height = expected.height;
  PixelImage out{width, height, std::vector<Rgb>(expected.value.size())};
  Mask cut(expected.value.size()), measured(expected.value.size());
  for (std::size_t i = 0; i < cut.size(); ++i) {
    measured[i] = !std::isnan(expected.value[i]);
    cut[i] = expected.value[i] <= 0;
  }
  const int brush = static_cast<int>(std::lround(3 * unit));
  const Mask cut_shown = grown(cut, width, height, brush);
  const Mask outline = grown(measured, width, height, std::max(1, brush * 2 / 3));
  each_row(height, [&](int y) {
    for (int x = 0; x < width; ++x) {
      const std::size_t i = static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                            static_cast<std::size_t>(x);
      const double low =
          worst.value.empty() ? std::numeric_limits<double>::quiet_NaN() : worst.value[i];
      if (cut_shown[i])
        out.pixels[i] = zone_pixel(WallZone::cut, 0, x, y, unit);
      else if (!measured[i] && outline[i])
        out.pixels[i] = kOutline;
      else
        out.pixels[i] =
            zone_pixel(wall_zone(expected.value[i], low, limit_mm), expected.value[i], x, y, unit);
    }
  });
  return out;
}

} // namespace leastwall
