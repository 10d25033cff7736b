#include "job/parse_quantity.h"

#include <array>
#include <charconv>
#include <cmath>
#include <system_error>

namespace leastwall {
namespace {

constexpr std::string_view kBlanks = " \t";

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(kBlanks);
  if (first == std::string_view::npos)
    return {};
  return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

/// Takes a finite number off the front of `text`.
std::optional<double> take_number(std::string_view& text) {
  std::string_view rest = text;
  if (rest.starts_with('+') && rest.size() > 1 && rest[1] != '-')
    rest.remove_prefix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), value);
  if (error != std::errc{} || !std::isfinite(value))
    return std::nullopt;
  text = rest.substr(static_cast<std::size_t>(end - rest.data()));
  return value;
}

struct UnitName {
  std::string_view name;
  double millimetres;
};
constexpr std::array<UnitName, 9> kUnits = {{{"mm", 1.0},
                                             {"um", 0.001},
                                             {"\u00b5m", 0.001}, // micro sign
                                             {"\u03bcm", 0.001}, // Greek mu
                                             {"cm", 10.0},
                                             {"in", kMillimetresPerInch},
                                             {"inch", kMillimetresPerInch},
                                             {"\"", kMillimetresPerInch},
                                             {"thou", kMillimetresPerInch / 1000}}};

} // namespace

std::optional<double> parse_length_mm(std::string_view text, LengthUnit unit) {
  text = trimmed(text);
  const std::optional<double> number = take_number(text);
  if (!number)
    return std::nullopt;
  const std::string_view name = trimmed(text);
  if (name.empty())
    return *number * millimetres_per(unit);
  for (const UnitName& known : kUnits)
    if (name == known.name)
      return *number * known.millimetres;
  return std::nullopt;
}

std::optional<double> parse_chance(std::string_view text) {
  text = trimmed(text);
  const std::optional<double> part = take_number(text);
  text = trimmed(text);
  if (!part || !text.starts_with("in"))
    return std::nullopt;
  text = trimmed(text.substr(2));
  const std::optional<double> whole = take_number(text);
  if (!whole || !trimmed(text).empty() || *whole <= 0 || *part < 0 || *part > *whole)
    return std::nullopt;
  return *part / *whole;
}

} // namespace leastwall
