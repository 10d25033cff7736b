#include "job/toml/stated_keys.h"

#include "base/text/plain_line.h"

#include <algorithm>
#include <fmt/format.h>
#include <string_view>

namespace leastwall {
namespace {

constexpr std::size_t kLongest = 100; // bytes of a value

/// Fowler, Noll and Vo's hash (FNV-1a, 32 bits).
std::uint32_t mark_of(std::string_view text) {
  std::uint32_t hash = 2166136261u;
  for (const char c : text)
    hash = (hash ^ static_cast<unsigned char>(c)) * 16777619u;
  return hash;
}

std::string text_of(const JobNode& node);

std::string list_of(const JobArray& list) {
  std::string out = "[";
  for (const JobNode& item : list)
    out += (out.size() > 1 ? ", " : "") + text_of(item);
  return out + "]";
}

/// A table within a line.
std::string inline_of(const JobTable& table) {
  std::string out = "{";
  for (const JobEntry& entry : table)
    out += (out.size() > 1 ? ", " : "") + entry.name + " = " + text_of(entry.node);
  return out + "}";
}

std::string text_of(const JobNode& node) {
  struct Words {
    std::string operator()(const std::string& text) const { return text; }
    std::string operator()(std::int64_t number) const { return fmt::format("{}", number); }
    std::string operator()(double number) const { return fmt::format("{}", number); }
    std::string operator()(bool yes) const { return yes ? "true" : "false"; }
    std::string operator()(const JobDate&) const { return "a date"; }
    std::string operator()(const JobArray& list) const { return list_of(list); }
    std::string operator()(const JobTable& table) const { return inline_of(table); }
  };
  return std::visit(Words(), node.value);
}

std::string shown(std::string text, std::size_t items) {
  text = plain_line(text, text.size());
  if (text.size() <= kLongest)
    return text;
  const std::uint32_t mark = mark_of(text);
  std::size_t end = kLongest / 2;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xc0) == 0x80) // inside a character
    --end;
  const std::string length = items > 0 ? fmt::format("{} items, ", items) : "";
  return fmt::format("{}... ({}mark {:08x})", text.substr(0, end), length, mark);
}

bool holds_tables(const JobArray& list) {
  return !list.empty() &&
         std::ranges::all_of(list, [](const JobNode& item) { return item.table() != nullptr; });
}

void add(const JobTable& table, const std::string& above, std::vector<StatedKey>& out) {
  for (const JobEntry& entry : table) {
    const std::string name = plain_line(above.empty() ? entry.name : above + "." + entry.name);
    if (const JobTable* inner = entry.node.table()) {
      add(*inner, name, out);
      continue;
    }
    const JobArray* list = entry.node.array();
    if (list == nullptr || !holds_tables(*list)) {
      out.push_back({name, shown(text_of(entry.node), list != nullptr ? list->size() : 0)});
      continue;
    }
    for (std::size_t i = 0; i < list->size(); ++i) {
      const JobNode* own = (*list)[i].find("name");
      const std::string* title = own != nullptr ? own->text() : nullptr;
      add(*(*list)[i].table(),
          fmt::format("{} {}", name,
                      title != nullptr ? shown(*title, 0) : fmt::format("{}", i + 1)),
          out);
    }
  }
}

} // namespace

std::vector<StatedKey> stated_keys(const JobNode& tree) {
  std::vector<StatedKey> out;
  if (const JobTable* table = tree.table())
    add(*table, "", out);
  return out;
}

} // namespace leastwall
