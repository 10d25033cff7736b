#include "job/form/typed_value.h"

#include "base/text/trimmed.h"
#include "bed/readings/read_readings.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace leastwall {
namespace {

constexpr std::string_view kBlanks = " \t\r\n";
constexpr std::string_view kDigits = "0123456789";

/// As a text in quotes (TOML 1.0.0, basic strings).
std::string in_quotes(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\')
      out += '\\';
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
      out += fmt::format("\\u{:04X}", static_cast<unsigned char>(c));
    else
      out += c;
  }
  return out + '"';
}

/// The number as TOML writes it; absent where it is none. "05" and "+.5" are numbers to people.
std::optional<std::string> number(std::string_view text) {
  const std::string_view digits = text.starts_with('+') ? text.substr(1) : text;
  if (digits.find_first_not_of("0123456789.-eE+") != digits.npos)
    return std::nullopt;
  double value = 0;
  const char* end = digits.data() + digits.size();
  const auto [read, fault] = std::from_chars(digits.data(), end, value);
  if (fault != std::errc() || read != end || !std::isfinite(value))
    return std::nullopt;
  const std::string_view whole = digits.starts_with('-') ? digits.substr(1) : digits;
  const bool plain = whole.find_first_not_of(kDigits) == whole.npos;
  if (plain && whole.size() < 16)
    return fmt::format("{}", static_cast<long long>(value));
  std::string out = fmt::format("{}", value);
  // Of the shortest form "1e-05" is TOML, "1" would be whole.
  return out.find_first_of(".e") == out.npos ? out + ".0" : out;
}

std::string item(std::string_view text) {
  text = trimmed(text, kBlanks);
  if (text.size() > 1 && text.front() == '"' && text.back() == '"')
    text = text.substr(1, text.size() - 2);
  return number(text).value_or(in_quotes(text));
}

std::vector<std::string> items(std::string_view text) {
  if (text.starts_with('[') && text.ends_with(']'))
    text = trimmed(text.substr(1, text.size() - 2), kBlanks);
  const std::string_view between = text.find(';') != text.npos   ? ";"
                                   : text.find(',') != text.npos ? ","
                                                                 : kBlanks;
  std::vector<std::string> out;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of(between), text.size());
    if (between != kBlanks || end > 0)
      out.push_back(item(text.substr(0, end)));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return out;
}

TypedValue readings(const KnownKey& key, std::string_view typed, LengthUnit unit) {
  const std::string_view name = trimmed(typed, kBlanks);
  if (name.find_first_of("\n,; \t") == name.npos)
    return {in_quotes(name), {}};
  ReadingsOptions options;
  if (key.owner == "board")
    options.kind = ReadingsKind::thickness;
  if (unit == LengthUnit::inch) {
    options.height_unit = HeightUnit::inch;
    options.place_unit = LengthUnit::inch;
  }
  const ReadingsFile read = parse_readings(typed, "the readings", options);
  std::vector<std::string> rows;
  for (const Vec3& p : read.map.points())
    rows.push_back(fmt::format("[{}, {}, {}]", p.x / millimetres_per(unit),
                               p.y / millimetres_per(unit), p.z / millimetres_per(unit)));
  return {fmt::format("[\n  {},\n]", fmt::join(rows, ",\n  ")), read.understood};
}

} // namespace

TypedValue typed_value(const KnownKey& key, std::string_view typed, LengthUnit unit) {
  if (trimmed(typed, kBlanks).empty())
    return {};
  if (key.type == KeyType::readings) // a table may begin with an empty cell
    return readings(key, typed, unit);
  typed = trimmed(typed, kBlanks);
  switch (key.type) {
  case KeyType::text:
  case KeyType::choice:
  case KeyType::file:
    return {in_quotes(typed), {}};
  case KeyType::point2:
  case KeyType::point3:
    return {fmt::format("[{}]", fmt::join(items(typed), ", ")), {}};
  case KeyType::lengths: {
    const std::vector<std::string> all = items(typed);
    return {all.size() == 1 ? all.front() : fmt::format("[{}]", fmt::join(all, ", ")), {}};
  }
  case KeyType::uncertain:
    if (typed.starts_with('{') && typed.find('\n') == typed.npos)
      return {std::string(typed), {}};
    break;
  default:
    break;
  }
  return {item(typed), {}};
}

std::string shown_value(const JobNode& node) {
  if (const std::string* text = node.text())
    return *text;
  if (const auto* whole = std::get_if<std::int64_t>(&node.value))
    return fmt::format("{}", *whole);
  if (const auto* value = std::get_if<double>(&node.value))
    return fmt::format("{}", *value);
  if (const auto* flag = std::get_if<bool>(&node.value))
    return *flag ? "true" : "false";
  std::string out;
  if (const JobArray* array = node.array()) {
    const bool rows = std::ranges::any_of(*array, [](const JobNode& n) { return n.array(); });
    // A comma may be a decimal one in a text.
    const bool texts = std::ranges::any_of(*array, [](const JobNode& n) { return n.text(); });
    for (const JobNode& inner : *array)
      out += (out.empty() ? "" : rows ? "\n" : texts ? "; " : ", ") + shown_value(inner);
  } else if (const JobTable* table = node.table()) {
    for (const JobEntry& entry : *table)
      out += (out.empty() ? "{" : ", ") + entry.name + " = " +
             (entry.node.text() ? in_quotes(*entry.node.text()) : shown_value(entry.node));
    out += out.empty() ? "" : "}";
  }
  return out;
}

} // namespace leastwall
