#include "job/keys/key_value.h"

#include "base/text/parse_length.h"
#include "job/keys/nearest_key.h"
#include "job/toml/job_error.h"
#include "job/toml/parse_quantity.h"

#include <cmath>

namespace leastwall {
namespace {

[[noreturn]] void refuse(const JobNode& node, const KnownKey& key, const KeyPlace& place) {
  if (const std::string* text = node.text())
    throw job_error(place.file, node.line,
                    fmt::format("{} = \"{}\" is not understood; write {}", place.path, shown(*text),
                                wanted(key)));
  throw job_error(place.file, node.line,
                  fmt::format("{} is {}; write {}", place.path, kind_of(node), wanted(key)));
}

void check_range(double value, const JobNode& node, const KnownKey& key, const KeyPlace& place) {
  if (value >= key.least && value <= key.most)
    return;
  const auto words = [&](double v) { return number_words(v, key, place.unit); };
  const std::string range = std::isinf(key.most) ? fmt::format("at least {}", words(key.least))
                            : std::isinf(key.least)
                                ? fmt::format("at most {}", words(key.most))
                                : fmt::format("from {} to {}", words(key.least), words(key.most));
  throw job_error(place.file, node.line,
                  fmt::format("{} = {} is out of range; it must be {}: check value and unit",
                              place.path, words(value), range));
}

/// The number of a node, whole or not; for lengths also a text with a unit. mm for lengths.
double plain_number(const JobNode& node, const KnownKey& key, const KeyPlace& place,
                    bool is_length) {
  double value = 0;
  if (const auto* whole = std::get_if<std::int64_t>(&node.value))
    value = static_cast<double>(*whole);
  else if (const auto* number = std::get_if<double>(&node.value))
    value = *number;
  else if (const std::string* text = node.text(); text && is_length) {
    const auto length = parse_length_mm(*text, place.unit);
    if (!length) {
      const std::string fault = length_fault(*text, place.unit);
      throw job_error(
          place.file, node.line,
          fmt::format("{} = \"{}\" is not a length; {}", place.path, shown(*text),
                      !fault.empty()
                          ? shown(fault, 160)
                          : fmt::format("write a number in {}, or a text with a unit: "
                                        "mm, um, in, thou",
                                        place.unit == LengthUnit::mm ? "mm" : "inches")));
    }
    return *length;
  } else {
    refuse(node, key, place);
  }
  if (!std::isfinite(value))
    throw job_error(place.file, node.line,
                    fmt::format("{} is not a finite number; write {}", place.path, wanted(key)));
  return is_length ? value * millimetres_per(place.unit) : value;
}

std::vector<double> length_list(const JobArray& items, const KnownKey& key, const KeyPlace& place) {
  std::vector<double> out;
  for (const JobNode& item : items)
    out.push_back(plain_number(item, key, place, true));
  return out;
}

} // namespace

std::string text_value(const JobNode& node, const KnownKey& key, const KeyPlace& place) {
  const std::string* text = node.text();
  if (!text)
    refuse(node, key, place);
  if (text->find_first_not_of(" \t") == std::string::npos)
    throw job_error(
        place.file, node.line,
        fmt::format("{} is empty; write {} or remove the key", place.path, wanted(key)));
  return *text;
}

std::string_view choice_value(const JobNode& node, const KnownKey& key, const KeyPlace& place) {
  const std::string* text = node.text();
  for (const std::string_view choice : key.choices)
    if (text && *text == choice)
      return choice;
  std::string list;
  for (const std::string_view choice : key.choices)
    list += fmt::format("{}\"{}\"", list.empty() ? "" : " or ", choice);
  if (!text)
    throw job_error(place.file, node.line,
                    fmt::format("{} is {}; write {}", place.path, kind_of(node), list));
  const std::string_view near = nearest(*text, key.choices);
  const std::string hint = near.empty() ? "" : fmt::format("did you mean \"{}\"? ", near);
  throw job_error(
      place.file, node.line,
      fmt::format("{} = \"{}\" is not known; {}write {}", place.path, shown(*text), hint, list));
}

std::int64_t whole_value(const JobNode& node, const KnownKey& key, const KeyPlace& place) {
  const auto* whole = std::get_if<std::int64_t>(&node.value);
  if (!whole)
    refuse(node, key, place);
  check_range(static_cast<double>(*whole), node, key, place);
  return *whole;
}

double number_value(const JobNode& node, const KnownKey& key, const KeyPlace& place) {
  double value = 0;
  if (const std::string* text = node.text(); text && key.type == KeyType::chance) {
    const auto chance = parse_chance(*text);
    if (!chance)
      refuse(node, key, place);
    value = *chance;
  } else {
    value = plain_number(node, key, place, key.type == KeyType::length);
  }
  check_range(value, node, key, place);
  return value;
}

Uncertain uncertain_value(const JobNode& node, const KnownKey& key, const KeyPlace& place) {
  Uncertain out;
  const JobTable* table = node.table();
  if (!table) {
    out.size_mm = plain_number(node, key, place, true);
    check_range(out.size_mm, node, key, place);
    return out;
  }
  for (const auto& [name, value] : *table)
    if (name != "limits" && name != "standard")
      throw job_error(
          place.file, value.line,
          fmt::format("{} knows no \"{}\"; write {}", place.path, shown(name), wanted(key)));
  const JobNode* limits = node.find("limits");
  const JobNode* standard = node.find("standard");
  if (limits && standard)
    throw job_error(place.file, standard->line,
                    fmt::format("{} states limits and a standard uncertainty; keep the one that "
                                "was measured",
                                place.path));
  const JobNode* stated = limits ? limits : standard;
  if (!stated)
    throw job_error(place.file, node.line,
                    fmt::format("{} is an empty table; write {}", place.path, wanted(key)));
  out.knowledge = limits ? Knowledge::limits : Knowledge::standard;
  out.size_mm = plain_number(*stated, key, place, true);
  check_range(out.size_mm, *stated, key, place);
  return out;
}

std::vector<double> lengths_value(const JobNode& node, const KnownKey& key, const KeyPlace& place) {
  const JobArray* items = node.array();
  std::vector<double> out;
  if (key.type == KeyType::lengths && !items)
    out.push_back(plain_number(node, key, place, true));
  else if (items)
    out = length_list(*items, key, place);
  else
    refuse(node, key, place);
  const std::size_t most = key.type == KeyType::point3 ? 3 : 2;
  const std::size_t least = key.type == KeyType::lengths ? 1 : most;
  if (out.size() < least || out.size() > most)
    throw job_error(place.file, node.line,
                    fmt::format("{} has {} values; write {}", place.path, out.size(), wanted(key)));
  for (const double value : out)
    check_range(value, node, key, place);
  return out;
}

std::vector<Vec3> rows_value(const JobNode& node, const KnownKey& key, const KeyPlace& place) {
  const JobArray* rows = node.array();
  if (!rows)
    refuse(node, key, place);
  if (rows->empty())
    throw job_error(place.file, node.line,
                    fmt::format("{} holds no readings; write {}", place.path, wanted(key)));
  std::vector<Vec3> out;
  for (const JobNode& row : *rows) {
    const JobArray* items = row.array();
    if (!items || items->size() != 3)
      throw job_error(
          place.file, row.line,
          fmt::format("each reading of {} is [x, y, reading]; write three lengths", place.path));
    const std::vector<double> v = length_list(*items, key, place);
    for (const double value : v)
      check_range(value, row, key, place);
    out.push_back({v[0], v[1], v[2]});
  }
  return out;
}

void check_value(const JobNode& node, const KnownKey& key, const KeyPlace& place) {
  switch (key.type) {
  case KeyType::text:
  case KeyType::file:
    text_value(node, key, place);
    break;
  case KeyType::choice:
    choice_value(node, key, place);
    break;
  case KeyType::whole:
    whole_value(node, key, place);
    break;
  case KeyType::number:
  case KeyType::length:
  case KeyType::chance:
    number_value(node, key, place);
    break;
  case KeyType::uncertain:
    uncertain_value(node, key, place);
    break;
  case KeyType::readings:
    if (node.text())
      text_value(node, key, place);
    else
      rows_value(node, key, place);
    break;
  case KeyType::point2:
  case KeyType::point3:
  case KeyType::lengths:
    lengths_value(node, key, place);
    break;
  case KeyType::table:
  case KeyType::tables:
    break;
  }
}

std::string number_words(double value, const KnownKey& key, LengthUnit unit) {
  switch (key.type) {
  case KeyType::length:
  case KeyType::uncertain:
  case KeyType::lengths:
  case KeyType::point2:
  case KeyType::point3:
  case KeyType::readings:
    return unit == LengthUnit::mm ? fmt::format("{:.6g} mm", value)
                                  : fmt::format("{:.6g} in", value / kMillimetresPerInch);
  default:
    return key.unit.empty() ? fmt::format("{:.10g}", value)
                            : fmt::format("{:.6g} {}", value, key.unit);
  }
}

} // namespace leastwall
