// Wall in mm to colour, always the same colour for the same mm, and how well colours stand apart.
#pragma once

#include "report/draw/canvas/rgb.h"

#include <array>
#include <span>

namespace leastwall {

/// Thickest wall with a colour of its own, mm; thicker ones share it.
inline constexpr double kScaleTop_mm = 3.0;
/// Where the scale bends, mm, and the place of that, 0..1: thin walls get the larger share because
/// they are what is looked at.
inline constexpr double kScaleKnee_mm = 1.0, kScaleKneePlace = 0.6;

/// The 256 colours of viridis, dark to light (table and licence in viridis_table.cpp).
std::span<const Rgb, 256> viridis();

/// Place of a wall on the colour scale, 0..1: 0 mm at 0, 1 mm at 0.6, 3 mm and more at 1, straight
/// between.
double scale_place(double wall_mm);

/// Colour of a wall. A wall <= 0 gives the darkest colour; a picture marks it in its own way.
Rgb wall_colour(double wall_mm);

/// Relative luminance 0..1 of WCAG 2.x ("relative luminance" in its glossary).
double relative_luminance(Rgb colour);

/// Contrast ratio 1..21 of WCAG 2.x; the order of the two does not matter.
double contrast_ratio(Rgb a, Rgb b);

/// Black or white, whichever stands out more on `background` (at least 4.58 : 1).
Rgb text_colour_on(Rgb background);

} // namespace leastwall
