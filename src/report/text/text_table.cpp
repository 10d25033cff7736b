#include "report/text/text_table.h"

#include "base/text/wrap_text.h"

#include <algorithm>

namespace leastwall {
namespace {

using Row = std::vector<std::string>;

std::string padded(const std::string& cell, int columns, bool left) {
  const std::string pad(static_cast<std::size_t>(std::max(0, columns - text_columns(cell))), ' ');
  return left ? cell + pad : pad + cell;
}

} // namespace

std::string text_table(const TextTable& table, int width) {
  std::vector<std::size_t> used;
  std::vector<int> columns(table.heads.size(), 0);
  for (std::size_t c = 0; c < table.heads.size(); ++c) {
    for (const Row& row : table.rows)
      columns[c] = std::max(columns[c], text_columns(row[c]));
    if (columns[c] == 0)
      continue;
    columns[c] = std::max(columns[c], text_columns(table.heads[c]));
    used.push_back(c);
  }
  int total = 0;
  for (const std::size_t c : used)
    total += columns[c] + 2;
  const std::string gap(total <= width ? 2 : 1, ' ');

  std::string out;
  const auto add_line = [&](const Row& cells) {
    std::string line;
    for (const std::size_t c : used)
      line += gap + padded(cells[c], columns[c], table.left[c]);
    line.erase(line.find_last_not_of(' ') + 1);
    out += text_columns(line) <= width ? line + "\n" : wrap_text(line, width, "  ");
  };
  if (std::ranges::any_of(table.heads, [](const std::string& h) { return !h.empty(); }))
    add_line(table.heads);
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    add_line(table.rows[i]);
    if (i < table.below.size() && !table.below[i].empty())
      out += wrap_text(table.below[i], width, "      ");
  }
  return out;
}

} // namespace leastwall
