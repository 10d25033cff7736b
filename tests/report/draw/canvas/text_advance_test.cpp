// Widths against the Cairo library, which reads them from the font itself (Debian package
// fonts-dejavu-core).
#include "report/draw/canvas/text_advance.h"

#include <cairo.h>
#include <doctest/doctest.h>
#include <string>

using namespace leastwall;

namespace {

/// Of text set 1000 units high, without hints.
double cairo_advance(const std::string& utf8, bool bold) {
  cairo_surface_t* surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 1, 1);
  cairo_t* c = cairo_create(surface);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(c, options);
  cairo_font_options_destroy(options);
  cairo_select_font_face(c, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(c, 1000);
  cairo_text_extents_t extents;
  cairo_text_extents(c, utf8.c_str(), &extents);
  cairo_destroy(c);
  cairo_surface_destroy(surface);
  return extents.x_advance;
}

std::string utf8_of(char32_t point) {
  const auto part = [](char32_t bits) { return static_cast<char>(bits); };
  if (point < 0x80)
    return {part(point)};
  if (point < 0x800)
    return {part(0xc0 | point >> 6), part(0x80 | (point & 0x3f))};
  return {part(0xe0 | point >> 12), part(0x80 | (point >> 6 & 0x3f)), part(0x80 | (point & 0x3f))};
}

} // namespace

TEST_CASE("every letter is as wide as the font has it") {
  struct Range {
    char32_t first, last;
  };
  int asked = 0;
  for (const Range& r : {Range{0x20, 0x7e},
                         {0xa0, 0x17f},
                         {0x370, 0x3ff},
                         {0x400, 0x45f},
                         {0x2010, 0x2044},
                         {0x2190, 0x2195},
                         {0x2200, 0x2265}})
    for (char32_t point = r.first; point <= r.last; ++point)
      for (const bool bold : {false, true}) {
        if (point >= 0x2028 && point <= 0x202e) // ends of lines and turns: Cairo sets them its way
          continue;
        CAPTURE(static_cast<std::uint32_t>(point));
        CAPTURE(bold);
        const std::string letter = utf8_of(point);
        CHECK(text_advance(letter, 1000, bold) ==
              doctest::Approx(cairo_advance(letter, bold)).epsilon(2e-4));
        ++asked;
      }
  CHECK(asked > 1400);
}

TEST_CASE("text is as wide as its letters, at any size") {
  for (const std::string text : {"TOUCH Z AT (mm)", "Gourd lantern, left half",
                                 "0.672 \xc2\xb1 0.13", "Fl\xc3\xbcgel 1/2\""}) {
    for (const bool bold : {false, true}) {
      CHECK(text_advance(text, 1000, bold) ==
            doctest::Approx(cairo_advance(text, bold)).epsilon(1e-4));
      CHECK(text_advance(text, 2.5, bold) ==
            doctest::Approx(text_advance(text, 1000, bold) / 400).epsilon(1e-12));
    }
  }
  CHECK(text_advance("", 10, false) == 0);
}

TEST_CASE("what has no letter takes the room of the sign for that") {
  const std::string none = "\xee\x80\x80"; // U+E000, private use
  CHECK(text_advance(none, 1000, false) ==
        doctest::Approx(cairo_advance(none, false)).epsilon(1e-4));
  // Bytes that are no UTF-8 count one each, and a cut letter does not run past the end.
  CHECK(text_advance("\xff", 2048, false) == 1229);
  CHECK(text_advance("\xc3", 2048, false) == 1229);
  CHECK(text_advance("\xe2\x82", 2048, false) == 2 * 1229);
  CHECK(text_advance("A\xe4", 2048, false) == 1401 + 1229);
}
