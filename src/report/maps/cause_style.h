// How causes look on a map: a colour and a pattern each, told apart by lightness alone, by pattern
// alone, and by eyes that lack one kind of cone.
#pragma once

#include "report/draw/colour_map.h"

#include <cstddef>
#include <span>

namespace leastwall {

inline constexpr std::size_t kCauseStyles = 6;  ///< causes with a look of their own
inline constexpr std::size_t kOtherCauses = 6;  ///< all the rest share this one
inline constexpr std::size_t kNoCauseStyle = 7; ///< no stated error thins the wall here
inline constexpr std::size_t kNotMeasuredStyle = 8;

/// Background colours of the styles 0 to 5, light to dark, then that of the others.
std::span<const Rgb, kCauseStyles + 1> cause_colours();

/// Colour of the pixel (x, y) in an area of this style; `unit` is 1 in a picture 1600 px wide.
Rgb cause_pixel(std::size_t style, int x, int y, double unit);

} // namespace leastwall
