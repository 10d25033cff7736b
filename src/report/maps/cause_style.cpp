#include "report/maps/cause_style.h"

#include "report/draw/colour_map.h"
#include "report/draw/wall_pixels.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace leastwall {
namespace {

// Any two differ by 1.3 or more in the contrast ratio of WCAG 2.x. The commonest cause gets the
// lightest colour, so that what is drawn over it shows.
constexpr std::array<Rgb, kCauseStyles + 1> kColours{{{246, 208, 60},
                                                      {78, 172, 222},
                                                      {214, 84, 40},
                                                      {92, 84, 178},
                                                      {122, 36, 6},
                                                      {16, 34, 84},
                                                      {240, 240, 240}}};

Rgb mix(Rgb below, Rgb above, double cover) {
  const auto channel = [cover](std::uint8_t b, std::uint8_t a) {
    return static_cast<std::uint8_t>(std::lround(b + (a - b) * cover));
  };
  return {channel(below.r, above.r), channel(below.g, above.g), channel(below.b, above.b)};
}

/// Distance to the nearest multiple of `period`.
double to_line(double place, double period) {
  return std::abs(place - period * std::round(place / period));
}

/// Distance from the pixel to the nearest mark of the pattern, px.
double to_pattern(std::size_t style, double x, double y, double unit) {
  const double root = std::sqrt(0.5);
  switch (style) {
  case 1:
    return to_line((x + y) * root, 17 * unit);
  case 2:
    return std::hypot(to_line(x, 20 * unit), to_line(y, 20 * unit)) - 2.2 * unit;
  case 3:
    return to_line(x, 17 * unit);
  case 4:
    return to_line((x - y) * root, 17 * unit);
  case 5:
    return std::min(to_line(x, 24 * unit), to_line(y, 24 * unit));
  case kOtherCauses:
    return to_line(y, 17 * unit);
  default:
    return std::numeric_limits<double>::infinity();
  }
}

} // namespace

std::span<const Rgb, kCauseStyles + 1> cause_colours() {
  return kColours;
}

Rgb cause_pixel(std::size_t style, int x, int y, double unit) {
  if (style == kNotMeasuredStyle)
    return zone_pixel(WallZone::none, 0, x, y, unit);
  if (style > kOtherCauses)
    return kWhite;
  const Rgb base = kColours[style];
  const double cover = std::clamp(1.3 * unit + 0.5 - to_pattern(style, x, y, unit), 0.0, 1.0);
  return mix(base, text_colour_on(base), cover);
}

} // namespace leastwall
