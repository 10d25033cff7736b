#include "report/draw/colour_map.h"

#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;

namespace {

constexpr Rgb hex(unsigned value) {
  return {static_cast<std::uint8_t>(value >> 16), static_cast<std::uint8_t>(value >> 8),
          static_cast<std::uint8_t>(value)};
}

} // namespace

TEST_CASE("contrast ratio agrees with published WCAG 2.x examples") {
  // W3C, WCAG 2.x, definitions of relative luminance and contrast ratio. Black on white 21 and blue
  // on white 8.59 are worked in its texts; the others follow from the formula by hand.
  CHECK(contrast_ratio(kBlack, kWhite) == doctest::Approx(21).epsilon(1e-12));
  CHECK(contrast_ratio(hex(0x0000ff), kWhite) == doctest::Approx(8.5925).epsilon(1e-5));
  CHECK(contrast_ratio(hex(0xff0000), kWhite) == doctest::Approx(3.9985).epsilon(1e-5));
  CHECK(contrast_ratio(hex(0xff8100), hex(0x64003a)) == doctest::Approx(5.235369976).epsilon(1e-9));
  // Example page of the npm package contrast-ratio-checker.
  CHECK(contrast_ratio(hex(0xe5e5e5), hex(0xaabb00)) == doctest::Approx(1.698093108).epsilon(1e-9));
  // The best known edge of the 4.5 : 1 threshold: #767676 passes on white, #777777 does not.
  CHECK(contrast_ratio(hex(0x767676), kWhite) > 4.5);
  CHECK(contrast_ratio(hex(0x777777), kWhite) < 4.5);
  CHECK(relative_luminance(hex(0xff8100)) == doctest::Approx(0.369605138).epsilon(1e-8));
}

TEST_CASE("the colour table is viridis") {
  // BIDS/colormap, colormaps.py (CC0), rows 0, 64, 128, 192, 255 rounded to 8 bits.
  CHECK(viridis()[0] == hex(0x440154));
  CHECK(viridis()[64] == hex(0x3b528b));
  CHECK(viridis()[128] == hex(0x21918c));
  CHECK(viridis()[192] == hex(0x5ec962));
  CHECK(viridis()[255] == hex(0xfde725));
}

TEST_CASE("thicker is lighter all along the scale") {
  // Neighbours may tie or dip by one 8-bit step of a channel; four rows on it must be lighter.
  for (std::size_t i = 4; i < viridis().size(); ++i)
    CHECK(relative_luminance(viridis()[i]) > relative_luminance(viridis()[i - 4]));
  double place = -1;
  for (int i = 0; i <= 300; ++i) {
    CHECK(scale_place(i * 0.01) > place);
    place = scale_place(i * 0.01);
  }
}

TEST_CASE("the scale is fixed: ends, knee, and what lies outside") {
  CHECK(scale_place(0) == 0);
  CHECK(scale_place(1.0) == doctest::Approx(0.6));
  CHECK(scale_place(2.0) == doctest::Approx(0.8));
  CHECK(scale_place(3.0) == 1);
  CHECK(scale_place(70) == 1);
  CHECK(scale_place(HUGE_VAL) == 1);
  CHECK(scale_place(-2) == 0);
  CHECK(wall_colour(-1) == viridis()[0]);
  CHECK(wall_colour(9) == viridis()[255]);
}

TEST_CASE("labels are readable on every colour of the scale") {
  // WCAG 2.x success criterion 1.4.3: at least 4.5 : 1 for text.
  for (const Rgb& colour : viridis())
    CHECK(contrast_ratio(text_colour_on(colour), colour) >= 4.5);
  CHECK(text_colour_on(viridis()[0]) == kWhite);
  CHECK(text_colour_on(viridis()[255]) == kBlack);
}
