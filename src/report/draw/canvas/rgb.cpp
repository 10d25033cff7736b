#include "report/draw/canvas/rgb.h"

#include <fmt/format.h>

namespace leastwall {

std::string colour_code(Rgb c) {
  return fmt::format("#{:06x}", pixel_word(c));
}

} // namespace leastwall
