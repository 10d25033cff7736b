#include "report/draw/colour_map.h"

#include "base/maths/exp_log.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leastwall {
namespace {

double linear(std::uint8_t channel) {
  static const std::array<double, 256> all = [] {
    std::array<double, 256> values{};
    for (std::size_t i = 0; i < values.size(); ++i) {
      const double c = static_cast<double>(i) / 255.0;
      values[i] = c <= 0.04045 ? c / 12.92 : maths::power((c + 0.055) / 1.055, 2.4);
    }
    return values;
  }();
  return all[channel];
}

} // namespace

double scale_place(double wall_mm) {
  if (!(wall_mm > 0))
    return 0;
  if (wall_mm <= kScaleKnee_mm)
    return wall_mm / kScaleKnee_mm * kScaleKneePlace;
  const double beyond =
      (std::min(wall_mm, kScaleTop_mm) - kScaleKnee_mm) / (kScaleTop_mm - kScaleKnee_mm);
  return kScaleKneePlace + beyond * (1 - kScaleKneePlace);
}

Rgb wall_colour(double wall_mm) {
  return viridis()[static_cast<std::size_t>(std::lround(scale_place(wall_mm) * 255))];
}

double relative_luminance(Rgb colour) {
  return 0.2126 * linear(colour.r) + 0.7152 * linear(colour.g) + 0.0722 * linear(colour.b);
}

double contrast_ratio(Rgb a, Rgb b) {
  const double la = relative_luminance(a), lb = relative_luminance(b);
  return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

Rgb text_colour_on(Rgb background) {
  return contrast_ratio(kWhite, background) >= contrast_ratio(kBlack, background) ? kWhite : kBlack;
}

} // namespace leastwall
