#include "job/edit_job.h"

#include "base/text/trimmed.h"
#include "job/toml/job_error.h"
#include "job/toml/parse_toml.h"

#include <algorithm>
#include <fmt/format.h>
#include <vector>

namespace leastwall {
namespace {

constexpr std::string_view kBlanks = " \t\r\n";

bool same(const JobNode& a, const JobNode& b);

bool same(const JobTable& a, const JobTable& b) {
  return a.size() == b.size() && std::ranges::all_of(a, [&b](const JobEntry& one) {
           const auto other = std::ranges::find(b, one.name, &JobEntry::name);
           return other != b.end() && same(one.node, other->node);
         });
}

/// The same values, wherever they stand.
bool same(const JobNode& a, const JobNode& b) {
  if (a.value.index() != b.value.index())
    return false;
  if (const JobTable* table = a.table())
    return same(*table, *b.table());
  if (const JobArray* array = a.array())
    return std::equal(array->begin(), array->end(), b.array()->begin(), b.array()->end(),
                      [](const JobNode& x, const JobNode& y) { return same(x, y); });
  if (const auto* text = a.text())
    return *text == *b.text();
  if (const auto* whole = std::get_if<std::int64_t>(&a.value))
    return *whole == std::get<std::int64_t>(b.value);
  if (const auto* number = std::get_if<double>(&a.value))
    return *number == std::get<double>(b.value);
  if (const auto* flag = std::get_if<bool>(&a.value))
    return *flag == std::get<bool>(b.value);
  return true; // a date has no value
}

/// Where a value that begins here ends: at the end of its line, or at a comment behind it.
/// Brackets and quotes may go over lines.
std::size_t end_of_value(std::string_view text, std::size_t at) {
  int open = 0;
  while (at < text.size()) {
    const char c = text[at];
    if (c == '"' || c == '\'') {
      const std::string_view quote(text.substr(at, 3) == std::string(3, c) ? text.substr(at, 3)
                                                                           : text.substr(at, 1));
      at += quote.size();
      while (at < text.size() && text.substr(at, quote.size()) != quote)
        at += c == '"' && text[at] == '\\' ? 2 : 1;
      at += quote.size();
      continue;
    }
    if (open == 0 && (c == '\n' || c == '\r' || c == '#'))
      break;
    if (c == '#') { // a comment between the items of a list
      at = std::min(text.find('\n', at), text.size());
      continue;
    }
    open += c == '[' || c == '{' ? 1 : c == ']' || c == '}' ? -1 : 0;
    ++at;
  }
  return std::min(at, text.size());
}

/// One edit of one text.
class Edit {
 public:
  Edit(std::string_view text, std::string_view file, const KeyEdit& edit)
      : text_(text), file_(file), edit_(edit) {
    std::string_view path = edit.path;
    if (const std::size_t dot = path.rfind('.'); dot != path.npos)
      table_ = path.substr(0, dot);
    for (std::size_t dot = path.find('.'); dot != path.npos; dot = path.find('.')) {
      names_.push_back(path.substr(0, dot));
      path.remove_prefix(dot + 1);
    }
    names_.push_back(path);
    newline_ = text_.find("\r\n") == text_.npos ? "\n" : "\r\n";
  }

  std::string made() {
    if (edit_.path.empty() ||
        edit_.path.find_first_not_of("abcdefghijklmnopqrstuvwxyz_.") != std::string::npos)
      by_hand();
    JobNode wanted = parse_toml(text_, file_);
    const JobNode* old = find(wanted);
    const bool stated = old != nullptr;
    if (stated && edit_.value)
      replace(line_start(old->line));
    else if (stated)
      leave_out(line_start(old->line), last_of_table(wanted));
    else if (edit_.value)
      insert();
    else
      return std::move(text_);
    require_this_alone(std::move(wanted));
    return std::move(text_);
  }

 private:
  [[noreturn]] void by_hand() const {
    throw InputError(
        edit_.value
            ? fmt::format("{}: {} = {} cannot be put in here; write it into the file by hand",
                          shown(file_), shown(edit_.path, 60), shown(*edit_.value, 60))
            : fmt::format("{}: {} cannot be left out here; take it out of the file by hand",
                          shown(file_), shown(edit_.path, 60)));
  }

  const JobNode* find(const JobNode& root) const {
    const JobNode* node = &root;
    for (const std::string_view name : names_) {
      if (!node->table())
        by_hand();
      node = node->find(name);
      if (!node)
        break;
    }
    return node;
  }

  /// Line `number` from 1.
  std::size_t line_start(int number) const {
    std::size_t at = 0;
    for (int line = 1; line < number; ++line)
      at = std::min(text_.find('\n', at), text_.size() - 1) + 1;
    return at;
  }
  std::size_t next_line(std::size_t at) const {
    const std::size_t end = text_.find('\n', at);
    return end == text_.npos ? text_.size() : end + 1;
  }
  std::string_view line(std::size_t at) const {
    return trimmed(std::string_view(text_).substr(at, next_line(at) - at), kBlanks);
  }

  /// The value behind the first "=" from `at` on.
  void replace(std::size_t at) {
    const std::size_t sign = text_.find('=', at);
    if (sign == text_.npos || sign >= next_line(at))
      by_hand();
    const std::size_t begin = text_.find_first_not_of(" \t", sign + 1);
    std::size_t end = end_of_value(text_, begin);
    while (end > begin && (text_[end - 1] == ' ' || text_[end - 1] == '\t'))
      --end;
    text_.replace(begin, end - begin, value());
  }

  /// With the line ends of the file.
  std::string value() const {
    std::string out;
    for (const char c : *edit_.value)
      out += c == '\n' ? std::string(newline_) : std::string(1, c);
    return out;
  }

  /// Is the key the only thing in its table?
  bool last_of_table(const JobNode& root) const {
    const JobNode* table = &root;
    for (std::size_t i = 0; i + 1 < names_.size(); ++i)
      table = table->find(names_[i]);
    return names_.size() > 1 && table->table()->size() == 1;
  }

  /// With it the header of a table that has nothing else: an empty one may mean something.
  void leave_out(std::size_t at, bool with_header) {
    const std::size_t sign = text_.find('=', at);
    if (sign == text_.npos || sign >= next_line(at))
      by_hand();
    std::size_t end = end_of_value(text_, sign + 1);
    std::string behind; // each line of it behind a "#"
    for (std::size_t begin = at; begin < end; begin = next_line(begin)) {
      behind += '#';
      behind += std::string_view(text_).substr(begin, std::min(next_line(begin), end) - begin);
    }
    text_.replace(at, end - at, behind);
    header_gone_ = with_header && line_of(fmt::format("[{}]", table_)) != text_.npos;
    if (header_gone_)
      text_.insert(line_of(fmt::format("[{}]", table_)), 1, '#');
  }

  /// Where a line says `words` and nothing else but a comment; npos where none does.
  std::size_t line_of(std::string_view words) const {
    for (std::size_t at = 0; at < text_.size(); at = next_line(at))
      if (const std::string_view here = line(at);
          trimmed(here.substr(0, here.find('#', 1))) == words)
        return at;
    return text_.npos;
  }

  /// The lines of the table's own keys: from the line behind its header to the next header.
  std::size_t end_of_section(std::size_t from) const {
    std::size_t at = from;
    while (at < text_.size() && !line(at).starts_with('[') && !line(at).starts_with("#["))
      at = next_line(at);
    return at;
  }

  void insert() {
    std::size_t from = text_.starts_with("\xEF\xBB\xBF") ? 3 : 0;
    if (!table_.empty()) {
      std::size_t header = line_of(fmt::format("[{}]", table_));
      if (header == text_.npos)
        header = begun_table();
      from = next_line(header);
    }
    const std::size_t to = end_of_section(from);
    const std::string stated = fmt::format("{} = {}", names_.back(), value());
    const std::string left_out = fmt::format("{} ", names_.back()); // "#touch_point = [0, 0]"
    for (std::size_t at = from; at < to; at = next_line(at)) {
      const std::string_view words = line(at);
      const std::size_t sign = words.find('=');
      if (!words.starts_with('#') || sign == words.npos || words.substr(1, sign - 1) != left_out)
        continue;
      // An example over several lines has a "#" before each: it stays, behind the new line.
      if (end_of_value(text_, text_.find('=', at) + 1) >= next_line(at))
        break;
      std::size_t end = end_of_value(text_, text_.find('=', at) + 1);
      while (text_[end - 1] == ' ' || text_[end - 1] == '\t')
        --end;
      text_.replace(at, end - at, stated);
      return;
    }
    text_.insert(from, stated + std::string(newline_));
  }

  /// Its header: behind a "#" so far, else at the end.
  std::size_t begun_table() {
    const std::size_t at = line_of(fmt::format("#[{}]", table_));
    if (at != text_.npos) {
      text_.erase(text_.find('#', at), 1);
      return at;
    }
    if (!text_.empty() && text_.back() != '\n')
      text_ += newline_;
    text_ += newline_;
    const std::size_t header = text_.size();
    text_ += fmt::format("[{}]{}", table_, newline_);
    return header;
  }

  void require_this_alone(JobNode wanted) const {
    JobNode* node = &wanted;
    const std::string_view goes = names_[names_.size() - (header_gone_ ? 2 : 1)];
    for (const std::string_view name : names_) {
      auto& table = std::get<JobTable>(node->value);
      auto entry = std::ranges::find(table, name, &JobEntry::name);
      if (name.data() == goes.data() && !edit_.value) {
        table.erase(entry);
        break;
      }
      if (entry == table.end()) {
        table.push_back({std::string(name), {JobTable(), 1}});
        entry = table.end() - 1;
      }
      node = &entry->node;
    }
    try {
      if (edit_.value)
        *node = *parse_toml("value = " + *edit_.value, "value").find("value");
      if (same(wanted, parse_toml(text_, file_)))
        return;
    } catch (const InputError&) { // the text is no TOML any more
    }
    by_hand();
  }

  std::string text_;
  std::string_view file_;
  const KeyEdit& edit_;
  bool header_gone_ = false;
  std::string_view table_, newline_;
  std::vector<std::string_view> names_; // of the path
};

} // namespace

std::string edited_job(std::string_view text, std::string_view file,
                       std::span<const KeyEdit> edits) {
  std::string out(text);
  for (const KeyEdit& edit : edits)
    out = Edit(out, file, edit).made();
  return out;
}

} // namespace leastwall
