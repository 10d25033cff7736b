#include "budget/known_words.h"

#include <fmt/format.h>

namespace leastwall {

std::string known_words(const Cause& cause) {
  const std::string unit = " " + cause.unit;
  switch (cause.distribution) {
  case Distribution::shift:
    return cause.unit.empty() ? std::string("from readings")
                              : fmt::format("{:+.3f}{}", cause.size, unit);
  case Distribution::rectangle:
    return fmt::format("+-{:.3f}{}", cause.size, unit);
  case Distribution::normal:
    return fmt::format("u {:.3f}{}", cause.size, unit);
  case Distribution::one_sided:
    return fmt::format("0 to {:.3f}{}", cause.size, unit);
  case Distribution::disc:
    return fmt::format("{:.3f}{} any way", cause.size, unit);
  case Distribution::overtaken:
    return fmt::format("{}{:.3f}{}, {:.3f} mm left on", cause.normal_roughing ? "u " : "+-",
                       cause.size, unit, cause.allowance_mm);
  }
  return {};
}

} // namespace leastwall
