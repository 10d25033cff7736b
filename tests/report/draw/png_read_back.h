// A PNG read back through Cairo, pixel by pixel.
#pragma once

#include "report/draw/colour_map.h"

#include <cairo.h>
#include <cstdint>
#include <cstring>
#include <doctest/doctest.h>
#include <string>
#include <vector>

namespace leastwall::sample {

/// A PNG read back through Cairo.
struct ReadBack {
  int width = 0, height = 0;
  std::vector<Rgb> pixels;

  explicit ReadBack(const std::string& png) {
    struct Source {
      const std::string& bytes;
      std::size_t at = 0;
    } source{png};
    const auto read = [](void* closure, unsigned char* data, unsigned int length) {
      Source& s = *static_cast<Source*>(closure);
      if (s.at + length > s.bytes.size())
        return CAIRO_STATUS_READ_ERROR;
      std::memcpy(data, s.bytes.data() + s.at, length);
      s.at += length;
      return CAIRO_STATUS_SUCCESS;
    };
    cairo_surface_t* surface = cairo_image_surface_create_from_png_stream(read, &source);
    REQUIRE(cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS);
    width = cairo_image_surface_get_width(surface);
    height = cairo_image_surface_get_height(surface);
    const unsigned char* data = cairo_image_surface_get_data(surface);
    const int stride = cairo_image_surface_get_stride(surface);
    for (int y = 0; y < height; ++y)
      for (int x = 0; x < width; ++x) {
        std::uint32_t word = 0;
        std::memcpy(&word, data + y * stride + x * 4, 4);
        pixels.push_back({static_cast<std::uint8_t>(word >> 16),
                          static_cast<std::uint8_t>(word >> 8), static_cast<std::uint8_t>(word)});
      }
    cairo_surface_destroy(surface);
  }

  Rgb at(double x, double y) const {
    return pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(x)];
  }
};

} // namespace leastwall::sample
