#include "bed/readings/readings_sentences.h"

#include "base/errors.h"
#include "base/text/lower_case.h"
#include "base/text/plain_line.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <initializer_list>
#include <utility>

namespace leastwall {
namespace {

bool is_word_char(char c) {
  return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80;
}

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  for (char c : lower_case(text) + " ") {
    if (is_word_char(c)) {
      word += c;
    } else if (!word.empty()) {
      words.push_back(std::exchange(word, {}));
    }
  }
  return words;
}

bool has_word(const std::vector<std::string>& words, std::initializer_list<const char*> any) {
  return std::any_of(words.begin(), words.end(), [&](const std::string& w) {
    return std::find(any.begin(), any.end(), w) != any.end();
  });
}

std::optional<LengthUnit> find_length_unit(std::string_view text) {
  const auto unit = find_height_unit(text);
  if (unit == HeightUnit::mm)
    return LengthUnit::mm;
  if (unit == HeightUnit::inch)
    return LengthUnit::inch;
  return std::nullopt;
}

bool has_open_bracket(std::string_view cell) {
  const std::size_t open = cell.find_last_of("[("), close = cell.find_last_of("])");
  return open != cell.npos && (close == cell.npos || close < open);
}

/// Sets `slot`, or refuses when it holds something else already.
template <class T>
void state(std::optional<T>& slot, T value, const TextDirective& d, const std::string& name) {
  if (slot && *slot != value)
    throw InputError(fmt::format("{}:{}: {} = {} contradicts what was stated elsewhere; remove one "
                                 "of them",
                                 plain_line(name), d.line, plain_line(d.key, 40),
                                 plain_line(d.value, 40)));
  slot = value;
}

[[noreturn]] void refuse(const TextDirective& d, const std::string& name, std::string_view known) {
  throw InputError(fmt::format("{}:{}: {} = {} is not understood; give {}", plain_line(name),
                               d.line, plain_line(d.key, 40), plain_line(d.value, 40), known));
}

/// "50", "50 40", "2 in": one or two lengths in mm.
std::pair<double, std::optional<double>> lengths(const TextDirective& d, const std::string& name) {
  std::vector<double> numbers;
  double scale = 1;
  std::string part;
  for (char c : d.value + " ") {
    if (c != ' ' && c != '\t' && c != ',') {
      part += c;
      continue;
    }
    if (part.empty())
      continue;
    if (const auto number = cell_number(part, false))
      numbers.push_back(*number);
    else if (const auto unit = find_length_unit(part))
      scale = millimetres_per(*unit);
    else
      refuse(d, name, "one or two numbers, and mm or inch");
    part.clear();
  }
  if (numbers.empty() || numbers.size() > 2)
    refuse(d, name, "one or two numbers, and mm or inch");
  if (numbers.size() == 1)
    return {numbers[0] * scale, std::nullopt};
  return {numbers[0] * scale, numbers[1] * scale};
}

void apply(ReadingsOptions& o, const TextDirective& d, const std::string& name) {
  const std::string value = lower_case(d.value);
  if (d.key == "measures") {
    if (value == "heights")
      state(o.kind, ReadingsKind::heights, d, name);
    else if (value == "gaps")
      state(o.kind, ReadingsKind::gaps, d, name);
    else if (value == "thickness")
      state(o.kind, ReadingsKind::thickness, d, name);
    else
      refuse(d, name, "heights, gaps or thickness");
  } else if (d.key == "layout") {
    if (value != "points" && value != "grid")
      refuse(d, name, "points or grid");
    state(o.layout, value == "grid" ? ReadingsLayout::grid : ReadingsLayout::points, d, name);
  } else if (d.key == "height-unit") {
    const auto unit = find_height_unit(value);
    if (!unit)
      refuse(d, name, "mm, 0.01 mm, um, inch or 0.001 inch");
    state(o.height_unit, *unit, d, name);
  } else if (d.key == "place-unit") {
    const auto unit = find_length_unit(value);
    if (!unit)
      refuse(d, name, "mm or inch");
    state(o.place_unit, *unit, d, name);
  } else if (d.key == "high") {
    if (value != "plus" && value != "minus")
      refuse(d, name, "plus or minus");
    state(o.high_is_plus, value == "plus", d, name);
  } else if (d.key == "first-row") {
    if (value != "far" && value != "near")
      refuse(d, name, "far (largest y) or near (smallest y)");
    state(o.first_row_far, value == "far", d, name);
  } else if (d.key == "pitch") {
    const auto [x, y] = lengths(d, name);
    if (!(x > 0) || !(y.value_or(x) > 0))
      refuse(d, name, "lengths above 0");
    state(o.pitch_x_mm, x, d, name);
    state(o.pitch_y_mm, y.value_or(x), d, name);
  } else if (d.key == "origin") {
    const auto [x, y] = lengths(d, name);
    if (!y)
      refuse(d, name, "two numbers, x and y");
    state(o.origin_x_mm, x, d, name);
    state(o.origin_y_mm, *y, d, name);
  } else {
    throw InputError(fmt::format("{}:{}: unknown key {}; known are measures, layout, height-unit, "
                                 "place-unit, high, first-row, pitch, origin",
                                 plain_line(name), d.line, plain_line(d.key, 40)));
  }
}

} // namespace

double millimetres_per(HeightUnit unit) {
  switch (unit) {
  case HeightUnit::mm:
    return 1;
  case HeightUnit::hundredth_mm:
    return 0.01;
  case HeightUnit::micrometre:
    return 0.001;
  case HeightUnit::inch:
    return kMillimetresPerInch;
  case HeightUnit::thousandth_inch:
    return kMillimetresPerInch / 1000;
  }
  return 1;
}

std::string height_unit_word(HeightUnit unit) {
  switch (unit) {
  case HeightUnit::mm:
    return "mm";
  case HeightUnit::hundredth_mm:
    return "0.01 mm";
  case HeightUnit::micrometre:
    return "um";
  case HeightUnit::inch:
    return "inch";
  case HeightUnit::thousandth_inch:
    return "0.001 inch";
  }
  return "mm";
}

std::optional<HeightUnit> find_height_unit(std::string_view text) {
  std::string t = lower_case(text);
  std::replace(t.begin(), t.end(), ',', '.');
  std::replace(t.begin(), t.end(), '_', ' ');
  const auto has = [&](std::string_view part) { return t.find(part) != t.npos; };
  // "mm" and "in" may stand glued to a number, as in 0.01mm.
  for (std::size_t i = 1; i < t.size(); ++i)
    if (t[i - 1] >= '0' && t[i - 1] <= '9' && t[i] >= 'a' && t[i] <= 'z')
      t.insert(i, 1, ' ');
  const auto words = words_of(t);
  const bool mm = has_word(words, {"mm", "millimetre", "millimetres", "millimeter", "millimeters"});
  const bool inch = has_word(words, {"in", "inch", "inches"}) || has("\"");
  if (mm && inch)
    return std::nullopt;
  if (mm && (has("0.01") || has("1/100") || has_word(words, {"hundredths", "hundredth"})))
    return HeightUnit::hundredth_mm;
  if (has_word(words, {"um", "\xC2\xB5m", "\xCE\xBCm", "micron", "microns", "micrometre",
                       "micrometres", "micrometer", "micrometers"}) ||
      (mm && (has("0.001") || has("1/1000"))))
    return HeightUnit::micrometre;
  if (has_word(words, {"thou", "thous", "mil", "mils"}) ||
      (inch && (has("0.001") || has("1/1000") || has_word(words, {"thousandths", "thousandth"}))))
    return HeightUnit::thousandth_inch;
  if (mm)
    return HeightUnit::mm;
  if (inch)
    return HeightUnit::inch;
  return std::nullopt;
}

std::optional<ReadingsHeading> find_heading(const TextRow& row) {
  ReadingsHeading heading;
  // "x [mm] y [mm]" between blanks: the unit belongs to the word before it.
  std::vector<std::string> cells;
  for (const std::string& cell : row.cells) {
    const bool opens = !cell.empty() && (cell.front() == '[' || cell.front() == '(');
    if (!cells.empty() && (opens || has_open_bracket(cells.back())))
      cells.back() += " " + cell;
    else
      cells.push_back(cell);
  }
  heading.columns = cells.size();
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const auto words = words_of(cells[i]);
    if (!heading.x && has_word(words, {"x", "distance", "position"})) {
      heading.x = i;
      heading.place_unit = find_length_unit(cells[i]);
    } else if (!heading.y && has_word(words, {"y"})) {
      heading.y = i;
    } else if (!heading.z && has_word(words, {"z", "h", "height", "heights", "dial", "reading",
                                              "readings", "gap", "gaps", "thickness"})) {
      heading.z = i;
      heading.height_unit = find_height_unit(cells[i]);
      if (has_word(words, {"gap", "gaps"}))
        heading.kind = ReadingsKind::gaps;
      else if (has_word(words, {"thickness"}))
        heading.kind = ReadingsKind::thickness;
    }
  }
  if (!heading.x || !heading.z)
    return std::nullopt;
  return heading;
}

ReadingsOptions with_directives(ReadingsOptions options, const ReadingsText& text,
                                const std::string& name) {
  for (const TextDirective& d : text.directives)
    apply(options, d, name);
  return options;
}

} // namespace leastwall
