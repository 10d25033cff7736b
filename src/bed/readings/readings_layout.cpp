#include "bed/readings/readings_layout.h"

#include "base/errors.h"
#include "base/text/lower_case.h"
#include "base/text/plain_line.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

std::string no_number(const std::string& cell) {
  std::string zeros = cell;
  for (char& c : zeros)
    if (c == 'O' || c == 'o')
      c = '0';
  if (zeros != cell && (cell_number(zeros, false) || cell_number(zeros, true)))
    return fmt::format("\"{}\" has the letter O where the digit 0 belongs; write {}",
                       plain_line(cell, 40), plain_line(zeros, 40));
  return fmt::format("\"{}\" is not a number", plain_line(cell, 40));
}

/// With a digit, or a sign or a point before one.
bool begins_like_a_number(std::string_view cell) {
  const std::size_t at = std::min(cell.find_first_not_of("+-.,"), cell.size());
  return at < 3 && at < cell.size() && cell[at] >= '0' && cell[at] <= '9';
}

/// What is wrong with a row before the readings that begins like one of them.
std::string not_all_numbers(const std::vector<std::string>& cells) {
  const auto word = std::find_if(cells.begin(), cells.end(), [](const std::string& cell) {
    return !cell_number(cell, true) && !is_missing_mark(cell);
  });
  return (word != cells.end() ? no_number(*word)
                              : fmt::format("\"{}\" begins like a reading and is none",
                                            plain_line(cells.front(), 40))) +
         "; put # before a line that only explains";
}

class Layout {
 public:
  Layout(ReadingsText text, const std::string& name, const ReadingsOptions& options)
      : name_(name), text_(std::move(text)) {
    out_.options = with_directives(options, text_, name_);
  }

  RawReadings lay_out();

 private:
  [[noreturn]] void refuse(std::size_t line, const std::string& what) const {
    refuse_readings(name_, line, what);
  }
  std::optional<double> number(const std::string& cell) const {
    return cell_number(cell, text_.decimal_comma);
  }
  bool all_numbers(const TextRow& row) const;
  bool is_labelled(std::size_t first) const;
  void find_data();
  void check_lengths();
  void heed_heading();
  void read_points();
  void read_labelled_grid();
  void read_bare_grid();
  std::optional<double> reading(const TextRow& row, std::size_t column) const;
  double place(const TextRow& row, std::size_t column) const;

  std::string name_;
  ReadingsText text_;
  RawReadings out_;
  std::optional<ReadingsHeading> heading_;
  std::size_t first_ = 0; // first row of numbers
  bool labelled_ = false;
};

bool Layout::all_numbers(const TextRow& row) const {
  bool any = false;
  for (const std::string& cell : row.cells) {
    if (number(cell))
      any = true;
    else if (!is_missing_mark(cell))
      return false;
  }
  return any;
}

/// x along the first row, y down the first column, both rising or falling throughout.
bool Layout::is_labelled(std::size_t first) const {
  const TextRow& top = text_.rows[first];
  if (top.cells.size() < 3 || first + 1 >= text_.rows.size() || number(top.cells[0]) ||
      out_.options.pitch_x_mm || out_.options.layout == ReadingsLayout::points)
    return false;
  const std::string corner = lower_case(top.cells[0]);
  if (!is_missing_mark(corner) && corner.find_first_of("xy") == corner.npos && corner != "mm")
    return false;
  const auto monotone = [](const std::vector<double>& v) {
    for (std::size_t i = 2; i < v.size(); ++i)
      if ((v[i] - v[i - 1]) * (v[1] - v[0]) <= 0)
        return false;
    return v.size() < 2 || v[0] != v[1];
  };
  std::vector<double> xs, ys;
  for (std::size_t i = 1; i < top.cells.size(); ++i) {
    const auto x = number(top.cells[i]);
    if (!x)
      return false;
    xs.push_back(*x);
  }
  for (std::size_t r = first + 1; r < text_.rows.size(); ++r) {
    const auto y = number(text_.rows[r].cells[0]);
    if (!y)
      return false;
    ys.push_back(*y);
  }
  return monotone(xs) && monotone(ys);
}

/// Finds heading and first row of numbers; refuses rows before it that look like mistyped numbers.
void Layout::find_data() {
  const auto& rows = text_.rows;
  std::size_t r = 0;
  for (; r < rows.size() && !all_numbers(rows[r]); ++r) {
    if (is_labelled(r)) {
      labelled_ = true;
      break;
    }
    if (const auto heading = find_heading(rows[r])) {
      heading_ = heading;
      ++r;
      break;
    }
  }
  if (r >= rows.size())
    refuse(0, "there are no readings in it");
  first_ = r;
  labelled_ = labelled_ || (!heading_ && is_labelled(r));
  for (std::size_t h = 0; h < first_; ++h) {
    if (heading_ && h + 1 == first_)
      continue;
    const auto& cells = rows[h].cells;
    const bool some_number =
        std::any_of(cells.begin(), cells.end(), [&](const std::string& c) { return number(c); });
    // What begins like a reading is no heading: left out, a high place would be lost.
    if (begins_like_a_number(cells.front()))
      refuse(rows[h].line, not_all_numbers(cells));
    if (some_number && cells.size() == rows[first_].cells.size())
      for (const std::string& cell : cells)
        if (!number(cell) && !is_missing_mark(cell))
          refuse(rows[h].line, no_number(cell));
  }
}

/// Drops a column that only a separator at the end of each row makes, then asks for equal rows.
void Layout::check_lengths() {
  auto& rows = text_.rows;
  const auto begin = rows.begin() + static_cast<std::ptrdiff_t>(first_);
  if (std::all_of(begin, rows.end(), [](const TextRow& row) {
        return row.cells.size() > 1 && row.cells.back().empty();
      }))
    for (auto row = begin; row != rows.end(); ++row)
      row->cells.pop_back();
  const std::size_t columns = begin->cells.size();
  for (auto row = begin; row != rows.end(); ++row) {
    if (row->cells.size() != columns)
      refuse(row->line, fmt::format("{} cells here but {} in line {}; mark a missing reading with "
                                    "\"-\"",
                                    row->cells.size(), columns, begin->line));
  }
  if (heading_ && text_.separator != ' ' && columns > heading_->columns)
    refuse(begin->line, fmt::format("{} cells under {} headings; is the comma both separator and "
                                    "decimal mark? then put semicolons between the cells",
                                    columns, heading_->columns));
  if (heading_ && std::max({*heading_->x, *heading_->z, heading_->y.value_or(0)}) >= columns)
    refuse(begin->line, fmt::format("{} cells under {} headings", columns, heading_->columns));
}

std::optional<double> Layout::reading(const TextRow& row, std::size_t column) const {
  const std::string& cell = row.cells[column];
  if (const auto z = number(cell))
    return z;
  if (is_missing_mark(cell))
    return std::nullopt;
  refuse(row.line, no_number(cell));
}

double Layout::place(const TextRow& row, std::size_t column) const {
  const auto v = reading(row, column);
  if (!v)
    refuse(row.line, "the place of this reading is missing");
  return *v;
}

void Layout::read_points() {
  const std::size_t columns = text_.rows[first_].cells.size();
  std::size_t x = 0, z = columns - 1;
  std::optional<std::size_t> y = columns == 3 ? std::optional<std::size_t>(1) : std::nullopt;
  if (heading_) {
    x = *heading_->x;
    y = heading_->y;
    z = *heading_->z;
  } else if (columns != 3 && !(columns == 2 && out_.options.kind == ReadingsKind::gaps)) {
    refuse(text_.rows[first_].line,
           fmt::format("{} cells a row are neither x, y, reading nor a grid of known pitch; head "
                       "the columns with their names, or {}",
                       columns, kSayPitch));
  }
  for (std::size_t r = first_; r < text_.rows.size(); ++r) {
    const TextRow& row = text_.rows[r];
    if (std::all_of(row.cells.begin(), row.cells.end(), [](auto& c) { return c.empty(); }))
      continue;
    out_.readings.push_back({row.line, place(row, x), y ? place(row, *y) : 0.0, reading(row, z)});
  }
  out_.layout = y ? "Rows of x, y, reading" : "Rows of distance and reading along one line";
}

void Layout::read_labelled_grid() {
  const TextRow& top = text_.rows[first_];
  for (std::size_t r = first_ + 1; r < text_.rows.size(); ++r)
    for (std::size_t c = 1; c < top.cells.size(); ++c)
      out_.readings.push_back(
          {text_.rows[r].line, place(top, c), place(text_.rows[r], 0), reading(text_.rows[r], c)});
  out_.layout = "A grid with x along its first row and y down its first column";
}

void Layout::read_bare_grid() {
  const std::size_t line = text_.rows[first_].line;
  const auto px = out_.options.pitch_x_mm ? out_.options.pitch_x_mm : out_.options.pitch_y_mm;
  const auto py = out_.options.pitch_y_mm ? out_.options.pitch_y_mm : out_.options.pitch_x_mm;
  if (!px)
    refuse(line, fmt::format("a grid without places; {}", kSayPitch));
  if (!(*px > 0) || !(*py > 0) || !std::isfinite(*px) || !std::isfinite(*py))
    refuse(0, "the pitch of the grid must be above 0 mm");
  const bool far_first = out_.options.first_row_far.value_or(true);
  const std::size_t rows = text_.rows.size() - first_;
  for (std::size_t r = 0; r < rows; ++r) {
    const TextRow& row = text_.rows[first_ + r];
    const double j = static_cast<double>(far_first ? rows - 1 - r : r);
    for (std::size_t c = 0; c < row.cells.size(); ++c)
      out_.readings.push_back({row.line,
                               out_.options.origin_x_mm.value_or(0) + *px * static_cast<double>(c),
                               out_.options.origin_y_mm.value_or(0) + *py * j, reading(row, c)});
  }
  out_.places_in_mm = true;
  out_.layout = fmt::format("A bare grid, pitch {} by {} mm, first row {}{}", *px, *py,
                            far_first ? "farthest away" : "nearest",
                            out_.options.first_row_far ? "" : " (taken so, not stated)");
  if (!out_.options.first_row_far && rows > 1)
    out_.notices.push_back({"row-order",
                            "Nothing says whether the first row of the grid is the far or "
                            "the near one; far was taken. If that is wrong the map is "
                            "mirrored: say first-row = near."});
}

/// What the heading states joins what was stated elsewhere.
void Layout::heed_heading() {
  if (!heading_)
    return;
  if (heading_->kind) {
    if (out_.options.kind && *out_.options.kind != *heading_->kind)
      refuse(text_.rows[first_ - 1].line,
             "the heading and the statement disagree on what was measured; remove one of them");
    out_.options.kind = heading_->kind;
  }
  if (heading_->height_unit) {
    if (out_.options.height_unit && *out_.options.height_unit != *heading_->height_unit)
      refuse(text_.rows[first_ - 1].line,
             fmt::format("the heading says {} but {} was stated; remove one of them",
                         height_unit_word(*heading_->height_unit),
                         height_unit_word(*out_.options.height_unit)));
    out_.options.height_unit = heading_->height_unit;
  }
  if (heading_->place_unit) {
    if (out_.options.place_unit && *out_.options.place_unit != *heading_->place_unit)
      refuse(text_.rows[first_ - 1].line,
             "the heading and the statement give places different units; remove one of them");
    out_.options.place_unit = heading_->place_unit;
  }
}

RawReadings Layout::lay_out() {
  find_data();
  check_lengths();
  heed_heading();
  out_.first_line = text_.rows[first_].line;
  const ReadingsOptions& o = out_.options;
  const bool bare =
      !heading_ && !labelled_ &&
      (o.layout ? *o.layout == ReadingsLayout::grid
                : o.pitch_x_mm || o.pitch_y_mm || text_.rows[first_].cells.size() > 3);
  if (labelled_)
    read_labelled_grid();
  else if (bare)
    read_bare_grid();
  else
    read_points();
  out_.guessed = !heading_ && !labelled_ && !bare && !o.layout;
  return std::move(out_);
}

} // namespace

void refuse_readings(const std::string& name, std::size_t line, const std::string& what) {
  throw InputError(line > 0 ? fmt::format("{}:{}: {}", plain_line(name), line, what)
                            : fmt::format("{}: {}", plain_line(name), what));
}

RawReadings lay_out_readings(ReadingsText text, const std::string& name,
                             const ReadingsOptions& options) {
  return Layout(std::move(text), name, options).lay_out();
}

} // namespace leastwall
