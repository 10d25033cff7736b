#include "job/form/typed_value.h"

#include "base/errors.h"
#include "base/notice.h"
#include "base/text/parse_length.h"
#include "base/text/trimmed.h"
#include "bed/readings/read_readings.h"
#include "job/toml/quoted_text.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace leastwall {
namespace {

constexpr std::string_view kBlanks = " \t\r\n";
constexpr std::string_view kDigits = "0123456789";

/// The number as TOML writes it; absent where it is none. "05" and "+.5" are numbers to people.
std::optional<std::string> number(std::string_view text) {
  const std::string_view digits = text.starts_with('+') ? text.substr(1) : text;
  if (text.starts_with('+') && digits.find_first_of("+-") == 0) // "plus or minus" is no sign
    return std::nullopt;
  if (digits.find_first_not_of("0123456789.-eE+") != digits.npos)
    return std::nullopt;
  double value = 0;
  const char* end = digits.data() + digits.size();
  const auto [read, fault] = std::from_chars(digits.data(), end, value);
  if (fault != std::errc() || read != end || !std::isfinite(value))
    return std::nullopt;
  const std::string_view whole = digits.starts_with('-') ? digits.substr(1) : digits;
  const bool plain = whole.find_first_not_of(kDigits) == whole.npos;
  if (plain) {
    const std::size_t first = std::min(whole.find_first_not_of('0'), whole.size() - 1);
    return std::string(digits.starts_with('-') ? "-" : "") + std::string(whole.substr(first));
  }
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

/// A comma without a blank behind it may be a decimal one.
bool has_bare_comma(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i)
    if (text[i] == ',' && (i + 1 == text.size() || kBlanks.find(text[i + 1]) == kBlanks.npos))
      return true;
  return false;
}

/// `by_blanks`: where there is nothing else between the items.
std::vector<std::string> items(std::string_view text, bool by_blanks) {
  if (text.starts_with('[') && text.ends_with(']'))
    text = trimmed(text.substr(1, text.size() - 2), kBlanks);
  if (text.find(';') == text.npos && has_bare_comma(text))
    throw InputError("is this comma a decimal mark, or does it stand between two numbers? Put a "
                     "semicolon between them: 0,5; 12");
  const std::string_view between = text.find(';') != text.npos   ? ";"
                                   : text.find(',') != text.npos ? ","
                                   : by_blanks                   ? kBlanks
                                                                 : ";";
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
  std::string_view name = trimmed(typed, kBlanks);
  if (name.size() > 1 && name.front() == '"' && name.back() == '"')
    name = name.substr(1, name.size() - 2);
  if (number(name) || name == "-")
    throw InputError("one number is no table of readings: write x, y and reading in a line each");
  const bool words = name.find_first_of("0123456789+-.") != 0;
  if (name.find('\n') == name.npos && (words || name.find_first_of(",; \t") == name.npos))
    return {in_quotes(name), {}};
  ReadingsOptions options;
  if (key.owner == "board")
    options.kind = ReadingsKind::thickness;
  if (unit == LengthUnit::inch) {
    options.height_unit = HeightUnit::inch;
    options.place_unit = LengthUnit::inch;
  }
  const ReadingsFile read = parse_readings(typed, "the readings", options);
  if (key.owner != "board" && read.kind == ReadingsKind::thickness)
    throw InputError("these readings say that they measure thickness: they belong to the board");
  if (read.kind == ReadingsKind::gaps)
    throw InputError("of gaps tilt and height are not known, which a list in the job cannot say: "
                     "keep them in a file and write its name here");
  std::vector<std::string> rows;
  for (const Vec3& p : read.map.points())
    rows.push_back(fmt::format("[{:.9g}, {:.9g}, {:.9g}]", p.x / millimetres_per(unit),
                               p.y / millimetres_per(unit), p.z / millimetres_per(unit)));
  TypedValue out{fmt::format("[\n  {},\n]", fmt::join(rows, ",\n  ")), read.understood};
  for (const Notice& notice : read.notices)
    out.understood.push_back(notice.text);
  return out;
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
    return {fmt::format("[{}]", fmt::join(items(typed, true), ", ")), {}};
  case KeyType::lengths: {
    if (length_from_text(typed, unit)) // "0,04" is one
      break;
    const std::vector<std::string> all = items(typed, false);
    return {all.size() == 1 ? all.front() : fmt::format("[{}]", fmt::join(all, ", ")), {}};
  }
  case KeyType::number: { // 1,5 and 5 % are numbers to people
    std::string_view plain = typed;
    if (plain.ends_with('%'))
      plain = trimmed(plain.substr(0, plain.size() - 1), kBlanks);
    if (const auto as_typed = number(plain))
      return {as_typed, {}};
    const auto taken = take_number(plain);
    if (taken && !taken->fraction && plain.empty() && !typed.starts_with("+-"))
      return {number(fmt::format("{}", taken->value)), {}};
    return {in_quotes(typed), {}};
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
