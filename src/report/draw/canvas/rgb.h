// A colour as files of pictures hold it.
#pragma once

#include <cstdint>
#include <string>

namespace leastwall {

/// sRGB, 8 bits a channel.
struct Rgb {
  std::uint8_t r = 0, g = 0, b = 0;
  bool operator==(const Rgb&) const = default;
};

inline constexpr Rgb kBlack{0, 0, 0};
inline constexpr Rgb kWhite{255, 255, 255};

/// 0x00RRGGBB, as files of pixels and Cairo take it.
constexpr std::uint32_t pixel_word(Rgb c) {
  return (std::uint32_t{c.r} << 16) | (std::uint32_t{c.g} << 8) | std::uint32_t{c.b};
}

/// "#rrggbb", as HTML and SVG take it.
std::string colour_code(Rgb c);

} // namespace leastwall
