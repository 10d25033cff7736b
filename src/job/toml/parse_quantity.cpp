#include "job/toml/parse_quantity.h"

#include "base/text/parse_length.h"
#include "base/text/trimmed.h"

#include <array>

namespace leastwall {
namespace {

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

bool is_inch(std::string_view name) {
  return name == "in" || name == "inch" || name == "\"";
}

/// A number that is no fraction.
std::optional<double> take_plain(std::string_view& text) {
  std::string_view rest = text;
  const std::optional<TakenNumber> number = take_number(rest);
  if (!number || number->fraction)
    return std::nullopt;
  text = rest;
  return number->value;
}

} // namespace

std::optional<double> parse_length_mm(std::string_view text, LengthUnit unit) {
  text = trimmed(text);
  const std::optional<TakenNumber> number = take_number(text);
  if (!number)
    return std::nullopt;
  const std::string_view name = trimmed(text);
  if (number->fraction && !(name.empty() ? unit == LengthUnit::inch : is_inch(name)))
    return std::nullopt; // no one writes other units in fractions
  if (name.empty())
    return number->value * millimetres_per(unit);
  for (const UnitName& known : kUnits)
    if (name == known.name)
      return number->value * known.millimetres;
  return std::nullopt;
}

std::optional<double> parse_chance(std::string_view text) {
  text = trimmed(text);
  const std::optional<double> part = take_plain(text);
  text = trimmed(text);
  if (!part || !text.starts_with("in"))
    return std::nullopt;
  text = trimmed(text.substr(2));
  const std::optional<double> whole = take_plain(text);
  if (!whole || !trimmed(text).empty() || *whole <= 0 || *part < 0 || *part > *whole)
    return std::nullopt;
  return *part / *whole;
}

} // namespace leastwall
