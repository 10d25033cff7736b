// A colour as files of pictures hold it.
#pragma once

#include <cstdint>

namespace leastwall {

/// sRGB, 8 bits a channel.
struct Rgb {
  std::uint8_t r = 0, g = 0, b = 0;
  bool operator==(const Rgb&) const = default;
};

inline constexpr Rgb kBlack{0, 0, 0};
inline constexpr Rgb kWhite{255, 255, 255};

} // namespace leastwall
