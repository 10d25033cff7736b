#include "job/toml/toml_hint.h"

#include "base/text/parse_length.h"
#include "base/text/trimmed.h"
#include "job/toml/parse_quantity.h"

#include <algorithm>
#include <cctype>
#include <fmt/format.h>

namespace leastwall {
namespace {

std::string_view trim(std::string_view s) {
  return trimmed(s, " \t\r");
}

/// A \ between double quotes.
bool has_backslash_in_quotes(std::string_view line) {
  bool quoted = false;
  for (const char c : line) {
    if (c == '"')
      quoted = !quoted;
    if (quoted && c == '\\')
      return true;
  }
  return false;
}

} // namespace

std::string toml_hint(std::string_view line) {
  if (has_backslash_in_quotes(line))
    return "in quotes \\ begins a special character: write / instead of \\ in paths";
  const std::size_t equals = line.find('=');
  if (equals == line.npos)
    return {};
  const std::string_view key = trim(line.substr(0, equals));
  std::string_view value = line.substr(equals + 1);
  value = trim(value.substr(0, value.find('#')));
  if (value.starts_with('{')) // { limits = 0,05 }
    return toml_hint(value.substr(1, value.find('}') - 1));
  if (value.empty() || std::string_view("\"'[{").find(value.front()) != value.npos)
    return {};
  const auto write = [&](std::string_view better) { return fmt::format("{} = {}", key, better); };
  const bool minus = value.front() == '-';
  if (value.size() > (minus ? 2u : 1u) && value[minus ? 1 : 0] == '.' &&
      std::isdigit(static_cast<unsigned char>(value[minus ? 2 : 1])) != 0) {
    const std::string whole = fmt::format("{}0{}", minus ? "-" : "", value.substr(minus ? 1 : 0));
    return fmt::format("a number begins with a digit: write {}", write(whole));
  }
  std::string_view rest = value;
  const auto number = take_number(rest);
  if (number && trim(rest).empty() && value.find(',') != value.npos) {
    std::string pointed(value);
    std::replace(pointed.begin(), pointed.end(), ',', '.');
    return fmt::format("a decimal has a point: write {}", write(pointed));
  }
  if (number && number->fraction && trim(rest).empty())
    return fmt::format("a fraction stands in quotes with its unit: write {}",
                       write(fmt::format("\"{} in\"", value)));
  if (number && !trim(rest).empty() && parse_length_mm(value, LengthUnit::mm)) {
    if (value.ends_with('"')) // the sign for inches would end the text
      return fmt::format("a length with its unit stands in quotes: write {}",
                         write(fmt::format("\"{} in\"", trim(value.substr(0, value.size() - 1)))));
    return fmt::format("a length with its unit stands in quotes: write {}",
                       write(fmt::format("\"{}\"", value)));
  }
  if (const std::string fault = length_fault(value, LengthUnit::mm); !fault.empty())
    return fault;
  return {};
}

} // namespace leastwall
