#include "job/toml/parse_toml.h"

#include "base/errors.h"
#include "base/file/text_file.h"
#include "job/toml/job_error.h"
#include "job/toml/toml_hint.h"

#include <algorithm>
#include <toml++/toml.h>

namespace leastwall {
namespace {

constexpr std::size_t kLargestFile = std::size_t{1} << 20;
constexpr std::size_t kLongestLine = 4000; // dotted keys nest, and the parser recurses
constexpr int kDeepest = 16;

int line_of(const toml::source_region& source) {
  return static_cast<int>(source.begin.line);
}

JobNode convert(const toml::node& node, int line, int depth, std::string_view file);

JobTable convert_table(const toml::table& table, int depth, std::string_view file) {
  JobTable out;
  for (const auto& [key, value] : table) {
    const int line = line_of(key.source());
    out.push_back({std::string(key.str()), convert(value, line, depth + 1, file)});
  }
  // toml++ sorts by name; the file's own order makes the first fault the first one reported.
  std::stable_sort(out.begin(), out.end(),
                   [](const auto& a, const auto& b) { return a.node.line < b.node.line; });
  return out;
}

JobNode convert(const toml::node& node, int line, int depth, std::string_view file) {
  if (depth > kDeepest)
    throw job_error(file, line, "values nest deeper than any key of a job; remove this one");
  JobNode out;
  out.line = line > 0 ? line : std::max(1, line_of(node.source()));
  if (const toml::table* table = node.as_table()) {
    out.value = convert_table(*table, depth, file);
  } else if (const toml::array* array = node.as_array()) {
    JobArray items;
    for (const toml::node& item : *array)
      items.push_back(convert(item, line_of(item.source()), depth + 1, file));
    out.value = std::move(items);
  } else if (const auto* text = node.as_string()) {
    out.value = text->get();
  } else if (const auto* whole = node.as_integer()) {
    out.value = whole->get();
  } else if (const auto* number = node.as_floating_point()) {
    out.value = number->get();
  } else if (const auto* flag = node.as_boolean()) {
    out.value = flag->get();
  } else {
    out.value = JobDate{};
  }
  return out;
}

void check_size(std::string_view text, std::string_view file) {
  if (text.size() > kLargestFile)
    throw InputError(fmt::format("{}: larger than 1 MiB; a job is a small text file, readings and "
                                 "meshes stay in their own files",
                                 shown(file)));
  if (looks_like_utf16(text))
    throw InputError(fmt::format("{}: is text in UTF-16; save it as UTF-8", shown(file)));
  int line = 1;
  std::size_t begin = 0;
  while (begin < text.size()) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    if (end - begin > kLongestLine)
      throw job_error(file, line,
                      fmt::format("the line is longer than {} bytes; break it, or keep readings in "
                                  "a file of their own",
                                  kLongestLine));
    begin = end + 1;
    ++line;
  }
}

/// Line `number`, counted from 1; empty when there is none.
std::string_view line_text(std::string_view text, int number) {
  for (int line = 1; line < number; ++line) {
    const std::size_t end = text.find('\n');
    if (end == text.npos)
      return {};
    text.remove_prefix(end + 1);
  }
  return text.substr(0, text.find('\n'));
}

} // namespace

JobNode parse_toml(std::string_view text, std::string_view file) {
  check_size(text, file);
  try {
    const toml::table table = toml::parse(text);
    JobNode root;
    root.value = convert_table(table, 0, file);
    return root;
  } catch (const toml::parse_error& error) {
    std::string why(error.description());
    const std::string start = "Error while parsing ";
    if (why.starts_with(start))
      why.erase(0, start.size());
    const int line = line_of(error.source());
    if (const std::string hint = toml_hint(line_text(text, line)); !hint.empty())
      throw job_error(file, line, shown(hint, 300));
    throw job_error(file, line,
                    fmt::format("not valid TOML ({}); correct this line: texts stand in quotes, "
                                "decimals have a point, a key is stated once",
                                shown(why, 160)));
  }
}

} // namespace leastwall
