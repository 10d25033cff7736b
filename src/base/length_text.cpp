#include "base/length_text.h"

#include <charconv>
#include <cmath>

namespace leastwall {

std::optional<double> length_from_text(std::string_view text, LengthUnit bare) {
  const auto trim = [](std::string_view s) {
    while (!s.empty() && (s.front() == ' ' || s.front() == '\t'))
      s.remove_prefix(1);
    while (!s.empty() && (s.back() == ' ' || s.back() == '\t'))
      s.remove_suffix(1);
    return s;
  };
  text = trim(text);
  if (!text.empty() && text.front() == '+')
    text.remove_prefix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || !std::isfinite(value))
    return std::nullopt;
  const std::string_view unit = trim(text.substr(static_cast<std::size_t>(end - text.data())));
  if (unit.empty())
    return value * millimetres_per(bare);
  if (unit == "mm")
    return value;
  if (unit == "in" || unit == "inch" || unit == "\"")
    return value * kMillimetresPerInch;
  if (unit == "thou" || unit == "mil")
    return value * kMillimetresPerInch / 1000;
  return std::nullopt;
}

} // namespace leastwall
