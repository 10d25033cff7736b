#include "report/draw/colour_map.h"
#include "report/maps/cause_style.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <doctest/doctest.h>
#include <set>
#include <string>

using namespace leastwall;

namespace {

using Triple = std::array<double, 3>;

Triple linear(Rgb c) {
  const auto one = [](std::uint8_t channel) { // IEC 61966-2-1 (sRGB)
    const double v = channel / 255.0;
    return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
  };
  return {one(c.r), one(c.g), one(c.b)};
}

// Machado, Oliveira, Fernandes, "A Physiologically-based Model for Simulation of Color Vision
// Deficiency", IEEE TVCG 15(6), 2009, severity 1.0, on linear RGB (from memory).
constexpr std::array<std::array<Triple, 3>, 3> kDeficiencies{{{{{0.152286, 1.052583, -0.204868},
                                                                {0.114503, 0.786281, 0.099216},
                                                                {-0.003882, -0.048116, 1.051998}}},
                                                              {{{0.367322, 0.860646, -0.227968},
                                                                {0.280085, 0.672501, 0.047413},
                                                                {-0.011820, 0.042940, 0.968881}}},
                                                              {{{1.255528, -0.076749, -0.178779},
                                                                {-0.078411, 0.930809, 0.147602},
                                                                {0.004733, 0.691367, 0.303900}}}}};

Triple seen_with(const std::array<Triple, 3>& m, const Triple& c) {
  Triple out{};
  for (std::size_t row = 0; row < 3; ++row)
    out[row] = std::clamp(m[row][0] * c[0] + m[row][1] * c[1] + m[row][2] * c[2], 0.0, 1.0);
  return out;
}

/// CIE 1976 L*a*b*, white D65 (ISO/CIE 11664-4; matrix of IEC 61966-2-1).
Triple lab(const Triple& c) {
  const double x = (0.4124 * c[0] + 0.3576 * c[1] + 0.1805 * c[2]) / 0.9505;
  const double y = 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2];
  const double z = (0.0193 * c[0] + 0.1192 * c[1] + 0.9505 * c[2]) / 1.089;
  const auto f = [](double t) {
    return t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116;
  };
  return {116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))};
}

double difference(const Triple& a, const Triple& b) {
  const Triple p = lab(a), q = lab(b);
  return std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

} // namespace

TEST_CASE("every two causes differ in lightness alone, as in a grey print") {
  const auto colours = cause_colours();
  for (std::size_t i = 0; i < colours.size(); ++i)
    for (std::size_t j = i + 1; j < colours.size(); ++j) {
      CAPTURE(i);
      CAPTURE(j);
      CHECK(contrast_ratio(colours[i], colours[j]) >= 1.3);
    }
}

TEST_CASE("every two causes stay apart for eyes that lack one kind of cone") {
  // 10 is about four times the difference just noticed side by side (2.3: Mahy, Van Eycken,
  // Oosterlinck, "Evaluation of uniform color spaces", Color Res. Appl. 19, 1994; from memory).
  const auto colours = cause_colours();
  for (const auto& deficiency : kDeficiencies)
    for (std::size_t i = 0; i < colours.size(); ++i)
      for (std::size_t j = i + 1; j < colours.size(); ++j) {
        CAPTURE(i);
        CAPTURE(j);
        CHECK(difference(seen_with(deficiency, linear(colours[i])),
                         seen_with(deficiency, linear(colours[j]))) >= 10);
      }
}

TEST_CASE("the pattern stands out on its colour, and no two causes share one") {
  // WCAG 2.x, success criterion 1.4.11: 3 : 1 for graphics.
  std::set<std::string> patterns;
  for (std::size_t style = 0; style <= kOtherCauses; ++style) {
    CAPTURE(style);
    const Rgb base = cause_colours()[style], ink = text_colour_on(base);
    CHECK(contrast_ratio(base, ink) >= 4.5);
    std::string pattern;
    int marks = 0, plain = 0;
    for (int y = 0; y < 60; ++y)
      for (int x = 0; x < 60; ++x) {
        const Rgb c = cause_pixel(style, x, y, 1);
        marks += c == ink ? 1 : 0;
        plain += c == base ? 1 : 0;
        pattern += c == base ? ' ' : '#';
      }
    CHECK(plain > 60 * 60 / 3);
    CHECK((marks > 60 * 60 / 50) == (style != 0)); // the commonest one is plain
    patterns.insert(pattern);
  }
  CHECK(patterns.size() == kOtherCauses + 1);
}
