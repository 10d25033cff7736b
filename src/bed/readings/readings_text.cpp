#include "bed/readings/readings_text.h"

#include "base/errors.h"
#include "base/text/lower_case.h"
#include "base/text/plain_line.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

bool is_blank(char c) {
  return c == ' ' || c == '\t';
}
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

struct Line {
  std::size_t number;
  std::string_view text;
};

std::vector<Line> lines_of(std::string_view text) {
  std::vector<Line> lines;
  std::size_t number = 1, begin = 0;
  for (std::size_t i = 0; i <= text.size(); ++i) {
    if (i < text.size() && text[i] != '\n' && text[i] != '\r')
      continue;
    lines.push_back({number++, text.substr(begin, i - begin)});
    if (i + 1 < text.size() && text[i] == '\r' && text[i + 1] == '\n')
      ++i;
    begin = i + 1;
  }
  return lines;
}

/// Where a comment starts: at #, % or // outside quotes.
std::size_t comment_start(std::string_view line) {
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (line[i] == '"')
      quoted = !quoted;
    if (quoted)
      continue;
    if (line[i] == '#' || line[i] == '%' || (line[i] == '/' && line.substr(i, 2) == "//"))
      return i;
  }
  return line.size();
}

void read_directives(std::string_view comment, std::size_t line, const std::string& name,
                     std::vector<TextDirective>& out) {
  constexpr std::string_view kMark = "leastwall:";
  while (!comment.empty() && (comment.front() == '#' || comment.front() == '%' ||
                              comment.front() == '/' || is_blank(comment.front())))
    comment.remove_prefix(1);
  if (lower_case(comment.substr(0, kMark.size())) != kMark)
    return;
  comment.remove_prefix(kMark.size());
  while (!trimmed(comment).empty()) {
    const std::size_t end = std::min(comment.find(';'), comment.size());
    const std::string_view part = comment.substr(0, end);
    const std::size_t equals = part.find('=');
    if (equals == std::string_view::npos)
      throw InputError(fmt::format("{}:{}: \"{}\" is not of the form key = value", plain_line(name),
                                   line, plain_line(trimmed(part), 40)));
    out.push_back({line, lower_case(trimmed(part.substr(0, equals))),
                   std::string(trimmed(part.substr(equals + 1)))});
    comment.remove_prefix(std::min(end + 1, comment.size()));
  }
}

/// Starts like a row of numbers, not like a header.
bool looks_like_data(std::string_view line) {
  const std::string_view t = trimmed(line);
  return !t.empty() && (is_digit(t[0]) || std::string_view("+-.,;\"").find(t[0]) != t.npos);
}

/// Calls visit(c) for the characters outside quotes.
template <class Visit> void outside_quotes(std::string_view line, const Visit& visit) {
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (line[i] == '"')
      quoted = !quoted;
    else if (!quoted)
      visit(i);
  }
}

/// Blanks that separate two cells even when those around commas are taken away.
bool has_lone_blank(std::string_view line) {
  bool found = false;
  outside_quotes(line, [&](std::size_t i) {
    if (!is_blank(line[i]))
      return;
    std::size_t a = i, b = i;
    while (a > 0 && is_blank(line[a]))
      --a;
    while (b + 1 < line.size() && is_blank(line[b]))
      ++b;
    found = found || (line[a] != ',' && line[b] != ',');
  });
  return found;
}

char find_separator(const std::vector<Line>& lines) {
  bool semicolon = false, tab = false, comma = false, comma_with_blanks = true;
  const bool any_data = std::any_of(lines.begin(), lines.end(),
                                    [](const Line& l) { return looks_like_data(l.text); });
  for (const Line& l : lines) {
    if (any_data && !looks_like_data(l.text))
      continue;
    const std::string_view t = trimmed(l.text);
    bool comma_here = false;
    outside_quotes(t, [&](std::size_t i) {
      semicolon = semicolon || t[i] == ';';
      tab = tab || t[i] == '\t';
      comma_here = comma_here || t[i] == ',';
    });
    comma = comma || comma_here;
    if (comma_here && !has_lone_blank(t))
      comma_with_blanks = false;
  }
  if (semicolon)
    return ';';
  if (tab)
    return '\t';
  return comma && !comma_with_blanks ? ',' : ' ';
}

std::vector<std::string> cells_of(std::string_view line, char separator) {
  std::vector<std::string> cells;
  if (separator == ' ' || separator == ',' || separator == ';')
    line = trimmed(line);
  std::string cell;
  bool quoted = false, any = false;
  const auto close = [&] {
    if (separator != ' ' || any)
      cells.emplace_back(trimmed(cell));
    cell.clear();
    any = false;
  };
  for (char c : line) {
    if (c == '"') {
      quoted = !quoted;
      any = true;
    } else if (!quoted && (separator == ' ' ? is_blank(c) : c == separator)) {
      close();
    } else {
      cell += c;
      any = true;
    }
  }
  close();
  return cells;
}

bool numberish(std::string_view cell) {
  return !cell.empty() && std::any_of(cell.begin(), cell.end(), is_digit) &&
         cell.find_first_not_of("0123456789+-.,eE") == cell.npos;
}

/// Blanks that do not break a line, as spreadsheets and web pages have them, are blanks.
std::string with_plain_blanks(std::string_view text) {
  constexpr std::array<std::string_view, 3> kBlanks = {"\xC2\xA0", "\xE2\x80\xAF", "\xE2\x80\x89"};
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const auto blank = std::find_if(kBlanks.begin(), kBlanks.end(), [&text](std::string_view b) {
      return text.substr(0, b.size()) == b;
    });
    out += blank == kBlanks.end() ? text.front() : ' ';
    text.remove_prefix(blank == kBlanks.end() ? 1 : blank->size());
  }
  return out;
}

/// A quote behind a number, outside of quotes: an inch mark, that would be lost.
bool has_inch_mark(std::string_view line) {
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i)
    if (line[i] == '"') {
      if (!quoted && i > 0 && (is_digit(line[i - 1]) || line[i - 1] == '.'))
        return true;
      quoted = !quoted;
    }
  return false;
}

} // namespace

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.front()))
    text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back()))
    text.remove_suffix(1);
  return text;
}

std::optional<double> cell_number(std::string_view cell, bool decimal_comma) {
  std::string text(cell);
  constexpr std::string_view kMinusSign = "\xE2\x88\x92"; // U+2212, as word processors write it
  if (text.rfind(kMinusSign, 0) == 0)
    text.replace(0, kMinusSign.size(), "-");
  if (decimal_comma)
    std::replace(text.begin(), text.end(), ',', '.');
  const char* begin = text.data();
  const char* end = begin + text.size();
  if (text.size() > 1 && text[0] == '+' && text[1] != '-')
    ++begin;
  double value = 0;
  const auto [stop, error] = std::from_chars(begin, end, value);
  if (error != std::errc() || stop != end || !std::isfinite(value))
    return std::nullopt;
  return value;
}

bool is_missing_mark(std::string_view cell) {
  static constexpr std::array<std::string_view, 13> kMarks = {
      "", "-", "--", "---", "x", "n/a", "na", "nan", "none", "*", "?", ".", "/"};
  return std::find(kMarks.begin(), kMarks.end(), lower_case(cell)) != kMarks.end();
}

ReadingsText split_readings(std::string_view given, const std::string& name) {
  const std::string plain = with_plain_blanks(given);
  std::string_view text = plain;
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (text.substr(0, 3) == kByteOrderMark)
    text.remove_prefix(3);
  if (text.find('\0') != text.npos)
    throw InputError(fmt::format("{}: this is not plain text; save the table as text, UTF-8 with "
                                 "one row a line",
                                 plain_line(name)));
  ReadingsText out;
  std::vector<Line> data;
  for (const Line& line : lines_of(text)) {
    const std::size_t comment = comment_start(line.text);
    if (comment < line.text.size())
      read_directives(line.text.substr(comment), line.number, name, out.directives);
    const std::string_view rest = line.text.substr(0, comment);
    if (has_inch_mark(rest))
      throw InputError(fmt::format("{}:{}: an inch mark behind a number; write the numbers alone "
                                   "and (in) into the heading of the column",
                                   plain_line(name), line.number));
    if (!trimmed(rest).empty())
      data.push_back({line.number, rest});
  }
  out.separator = find_separator(data);
  std::size_t comma_line = 0, point_line = 0;
  for (const Line& line : data) {
    out.rows.push_back({line.number, cells_of(line.text, out.separator)});
    for (const std::string& cell : out.rows.back().cells) {
      if (!numberish(cell))
        continue;
      const bool comma = cell.find(',') != cell.npos, point = cell.find('.') != cell.npos;
      if (comma && point)
        throw InputError(fmt::format("{}:{}: \"{}\" has a comma and a point; write numbers without "
                                     "thousands marks",
                                     plain_line(name), line.number, plain_line(cell, 40)));
      if (comma && comma_line == 0)
        comma_line = line.number;
      if (point && point_line == 0)
        point_line = line.number;
    }
  }
  if (comma_line != 0 && point_line != 0)
    throw InputError(fmt::format("{}:{}: decimal comma here but decimal point in line {}; use one "
                                 "of them throughout",
                                 plain_line(name), comma_line, point_line));
  out.decimal_comma = comma_line != 0;
  return out;
}

} // namespace leastwall
