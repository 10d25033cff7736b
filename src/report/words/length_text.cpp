#include "report/words/length_text.h"

#include "base/units.h"
#include "report/words/number_text.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <fmt/format.h>
#include <optional>
#include <vector>

namespace leastwall {
namespace {

constexpr double kSquareInch_mm2 = kMillimetresPerInch * kMillimetresPerInch;
constexpr int kAreaDecimals = 4;

int inch_decimals(int of_mm) {
  return of_mm <= 1 ? 3 : std::max(4, of_mm + 1);
}

std::string in_inches(double mm, int decimals_of_mm) {
  return fixed_text(mm / kMillimetresPerInch, inch_decimals(decimals_of_mm));
}

std::string with_plus(double value, const std::string& text) {
  return value > 0 && text.find_first_of("123456789") != std::string::npos ? "+" + text : text;
}

bool part_of_word(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

/// A number of a sentence, perhaps with its axis: "x -12.3", "+-0.050".
struct Item {
  std::size_t begin = 0, number = 0, end = 0; ///< `number`: behind axis and sign
  bool axis = false;
  double value = 0; ///< without its sign
  int decimals = 0;
};

std::optional<Item> item_at(std::string_view text, std::size_t at) {
  if (at > 0 && (part_of_word(text[at - 1]) || text[at - 1] == '.' || text[at - 1] == '-' ||
                 text[at - 1] == '+'))
    return std::nullopt;
  Item item;
  item.begin = at;
  if (at + 1 < text.size() && std::string_view("xyzXYZ").find(text[at]) != std::string_view::npos &&
      text[at + 1] == ' ') {
    item.axis = true;
    at += 2;
  }
  for (const std::string_view sign : {"+-", "+", "-"})
    if (text.substr(at).starts_with(sign)) {
      at += sign.size();
      break;
    }
  item.number = at;
  if (at >= text.size() || std::isdigit(static_cast<unsigned char>(text[at])) == 0)
    return std::nullopt;
  const auto digits = [&] {
    const std::size_t first = at;
    while (at < text.size() && std::isdigit(static_cast<unsigned char>(text[at])) != 0)
      ++at;
    return static_cast<int>(at - first);
  };
  digits();
  if (at + 1 < text.size() && text[at] == '.' &&
      std::isdigit(static_cast<unsigned char>(text[at + 1])) != 0) {
    ++at;
    item.decimals = digits();
  }
  if (at < text.size() && (part_of_word(text[at]) || text[at] == '%'))
    return std::nullopt;
  item.end = at;
  std::from_chars(text.data() + item.number, text.data() + at, item.value);
  return item;
}

/// Numbers that share a unit: "x 1.0 to 2.0, y 3.0 to 4.0 mm".
struct Group {
  enum class Kind { length, area, slope } kind = Kind::length;
  std::vector<Item> items;
  std::size_t end = 0; ///< behind the unit
  std::string_view unit;
};

bool ends_word(std::string_view text, std::size_t at) {
  return at >= text.size() || !part_of_word(text[at]);
}

/// Fills in the unit that stands behind the numbers; false where none does.
bool take_unit(std::string_view text, Group& group) {
  static constexpr std::array<std::pair<std::string_view, Group::Kind>, 4> kUnits{
      {{" mm per m", Group::Kind::slope},
       {" mm/m", Group::Kind::slope},
       {" mm2", Group::Kind::area},
       {" mm", Group::Kind::length}}};
  const std::size_t at = group.items.back().end;
  for (const auto& [unit, kind] : kUnits)
    if (text.substr(at).starts_with(unit) && ends_word(text, at + unit.size())) {
      group.kind = kind;
      group.unit = unit;
      group.end = at + unit.size();
      return true;
    }
  return false;
}

std::optional<Group> group_at(std::string_view text, std::size_t at) {
  const std::optional<Item> first = item_at(text, at);
  if (!first)
    return std::nullopt;
  Group group;
  group.items.push_back(*first);
  std::size_t places = first->axis ? 1 : 0; // so many make a place, should no unit follow
  while (!take_unit(text, group)) {
    const std::size_t end = group.items.back().end;
    std::optional<Item> next;
    std::string_view joined;
    for (const std::string_view joint : {" to ", " by ", " x ", " and ", " or ", " ", ", "})
      if (text.substr(end).starts_with(joint)) {
        next = item_at(text, end + joint.size());
        if (next && (next->axis || (joint != " " && joint != ", "))) {
          joined = joint;
          break;
        }
        next.reset();
      }
    if (!next) {
      if (places == 0)
        return std::nullopt;
      group.items.resize(places);
      group.end = group.items.back().end;
      return group;
    }
    group.items.push_back(*next);
    if (places + 1 == group.items.size() && (next->axis || joined == " to "))
      ++places;
  }
  return group;
}

std::string inches_of(std::string_view text, const Group& group) {
  std::string out;
  std::size_t at = group.items.front().begin;
  for (const Item& item : group.items) {
    out += text.substr(at, item.number - at);
    if (item.value == 0 && item.decimals == 0)
      out += "0";
    else if (group.kind == Group::Kind::length)
      out += in_inches(item.value, item.decimals);
    else if (group.kind == Group::Kind::area)
      out += fixed_text(item.value / kSquareInch_mm2, kAreaDecimals);
    else
      out += fixed_text(item.value * kInchPerFoot, 4);
    at = item.end;
  }
  return out + (group.kind == Group::Kind::length ? " in"
                : group.kind == Group::Kind::area ? " in2"
                                                  : " in per ft");
}

/// Inches stand behind it already, or in front of its brackets.
bool paired(std::string_view text, const Group& group) {
  const std::string_view before = text.substr(0, group.items.front().begin);
  for (const std::string_view word : {" in (", " in2 (", " in per ft (", " in = "})
    if (before.ends_with(word))
      return true;
  if (!group.unit.empty())
    return false;
  const std::string_view behind = text.substr(group.end);
  return std::ranges::any_of(
      std::array<std::string_view, 6>{" in (", " in)", " in,", " in.", " in;", " in = "},
      [&](std::string_view word) { return behind.starts_with(word); });
}

} // namespace

std::string LengthText::length(double mm, int decimals) const {
  const std::string text = fixed_text(mm, decimals) + " mm";
  return inch ? fmt::format("{} in ({})", in_inches(mm, decimals), text) : text;
}

std::string LengthText::change(double mm, int decimals) const {
  const std::string text = with_plus(mm, fixed_text(mm, decimals)) + " mm";
  return inch ? fmt::format("{} in ({})", with_plus(mm, in_inches(mm, decimals)), text) : text;
}

std::string LengthText::wall(double mm, double limit_mm) const {
  const std::string text = wall_text(mm, limit_mm) + " mm";
  return inch ? fmt::format("{} in ({})", wall_text_inch(mm, limit_mm), text) : text;
}

std::string LengthText::area(double mm2) const {
  const std::string text = area_text(mm2) + " mm2";
  if (!inch)
    return text;
  constexpr double kMin = 0.0001; // in2
  const double in2 = mm2 / kSquareInch_mm2;
  return fmt::format("{} in2 ({})",
                     in2 > 0 && in2 < kMin / 2 ? "under 0.0001" : fixed_text(in2, kAreaDecimals),
                     text);
}

std::string LengthText::place(Vec3 at) const {
  return inch ? fmt::format("{} ({} mm)", place_text_inch(at), place_text(at)) : place_text(at);
}

std::string LengthText::place(Point2 at, int decimals) const {
  const std::string text =
      fmt::format("x {} y {}", fixed_text(at.x, decimals), fixed_text(at.y, decimals));
  return inch ? fmt::format("x {} y {} in ({} mm)", in_inches(at.x, decimals),
                            in_inches(at.y, decimals), text)
              : text;
}

std::string LengthText::number(double mm, int decimals) const {
  return inch ? in_inches(mm, decimals) : fixed_text(mm, decimals);
}

std::string LengthText::wall_number(double mm, double limit_mm) const {
  return inch ? wall_text_inch(mm, limit_mm) : wall_text(mm, limit_mm);
}

std::string LengthText::sentence(std::string_view text) const {
  if (!inch)
    return std::string(text);
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::optional<Group> group = group_at(text, at);
    if (!group) {
      out += text[at++];
      continue;
    }
    const std::string_view mm = text.substr(at, group->end - at);
    const std::string unit = group->unit.empty() ? " mm" : "";
    if (paired(text, *group))
      out += mm;
    else if (out.ends_with('(') && text.substr(group->end).starts_with(')'))
      out += fmt::format("{} = {}{}", inches_of(text, *group), mm, unit);
    else
      out += fmt::format("{} ({}{})", inches_of(text, *group), mm, unit);
    at = group->end;
  }
  return out;
}

} // namespace leastwall
