#include "base/text/parse_length.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

std::string_view trim(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '\t'))
    s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '\t'))
    s.remove_suffix(1);
  return s;
}

/// The digits at the front of `text`.
std::string_view digits(std::string_view text) {
  return text.substr(0, static_cast<std::size_t>(
                            std::find_if_not(text.begin(), text.end(), is_digit) - text.begin()));
}

double number_of(std::string_view digits) {
  double value = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), value);
  return value;
}

/// "3/8" off the front of `text`.
std::optional<double> take_fraction(std::string_view& text) {
  constexpr std::size_t kMaxDigits = 4;
  const std::string_view above = digits(text);
  if (above.empty() || above.size() > kMaxDigits || text.substr(above.size(), 1) != "/")
    return std::nullopt;
  const std::string_view below = digits(text.substr(above.size() + 1));
  if (below.empty() || below.size() > kMaxDigits || number_of(below) == 0)
    return std::nullopt;
  text.remove_prefix(above.size() + 1 + below.size());
  return number_of(above) / number_of(below);
}

/// "1 3/8" or "1-3/8" off the front of `text`.
std::optional<double> take_mixed(std::string_view& text) {
  const std::string_view whole = digits(text);
  std::string_view rest = text.substr(whole.size());
  if (whole.empty() || rest.empty() || (rest.front() != ' ' && rest.front() != '-'))
    return std::nullopt;
  rest.remove_prefix(1);
  const std::optional<double> part = take_fraction(rest);
  if (!part || *part >= 1)
    return std::nullopt;
  text = rest;
  return number_of(whole) + *part;
}

std::optional<double> take_decimal(std::string_view& text) {
  if (text.empty() || (!is_digit(text.front()) && text.front() != '.'))
    return std::nullopt; // "inf" and "nan" are no numbers here
  const std::string_view whole = digits(text);
  if (!whole.empty() && text.substr(whole.size(), 1) == ",") {
    const std::string_view part = digits(text.substr(whole.size() + 1));
    const bool thousands = part.size() == 3 && number_of(whole) != 0;
    if (part.empty() || thousands)
      return std::nullopt;
    const std::string with_point = fmt::format("{}.{}", whole, part);
    text.remove_prefix(with_point.size());
    return number_of(with_point);
  }
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{})
    return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return value;
}

} // namespace

std::optional<TakenNumber> take_number(std::string_view& text) {
  std::string_view rest = text;
  const bool minus = rest.starts_with('-');
  if (minus || rest.starts_with('+'))
    rest.remove_prefix(1);
  std::optional<double> value = take_fraction(rest);
  if (!value)
    value = take_mixed(rest);
  const bool fraction = value.has_value();
  if (!value)
    value = take_decimal(rest);
  if (!value || !std::isfinite(*value))
    return std::nullopt;
  text = rest;
  return TakenNumber{minus ? -*value : *value, fraction};
}

std::optional<double> length_from_text(std::string_view text, LengthUnit bare) {
  text = trim(text);
  const std::optional<TakenNumber> number = take_number(text);
  if (!number)
    return std::nullopt;
  const std::string_view unit = trim(text);
  if (unit == "in" || unit == "inch" || unit == "\"")
    return number->value * kMillimetresPerInch;
  if (number->fraction)
    return unit.empty() && bare == LengthUnit::inch
               ? std::optional(number->value * kMillimetresPerInch)
               : std::nullopt;
  if (unit.empty())
    return number->value * millimetres_per(bare);
  if (unit == "mm")
    return number->value;
  if (unit == "thou" || unit == "mil")
    return number->value * kMillimetresPerInch / 1000;
  return std::nullopt;
}

std::string length_fault(std::string_view text, LengthUnit bare) {
  text = trim(text);
  std::string zeros(text);
  for (char& c : zeros)
    if (c == 'O' || c == 'o')
      c = '0';
  if (zeros != text && length_from_text(zeros, bare))
    return fmt::format("the letter O stands where the digit 0 belongs: write {}", zeros);
  std::string_view rest = text;
  if (const auto number = take_number(rest); number && number->fraction && trim(rest).empty())
    return fmt::format("a fraction needs its unit: write {}in", text);
  const std::size_t comma = text.find(',');
  if (comma != text.npos && text.find(',', comma + 1) == text.npos) {
    std::string joined(text), pointed(text);
    joined.erase(comma, 1);
    pointed[comma] = '.';
    if (length_from_text(joined, bare) && length_from_text(pointed, bare))
      return fmt::format("the comma may be a decimal mark or part thousands: write {} or {}",
                         pointed, joined);
  }
  return {};
}

} // namespace leastwall
