// An opaque picture as a PNG file: 8 bits for each of red, green and blue.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace leastwall {

/// Pixels as words 0x..RRGGBB of the machine, row by row from the top, `stride` words from one row
/// to the next.
struct PngPixels {
  const std::uint32_t* words = nullptr;
  int width = 0, height = 0; ///< at least 1
  std::size_t stride = 0;
};

/// The bytes of the file; the same on any number of threads. Throws RunError or std::bad_alloc when
/// there is no memory left for packing. Source: ISO/IEC 15948:2004 (the same text as the W3C
/// recommendation "PNG specification, second edition"), clauses 5, 9.2, 10.1 and 11.2; RFC 1950 and
/// RFC 1951.
///
/// `words`: UTF-8, what is written in the picture, for whoever cannot see it; kept as iTXt with the
/// keyword Description (clause 11.3.4.5) where it is not empty.
std::string png_file(const PngPixels& pixels, std::string_view words = {});

} // namespace leastwall
