#include "mesh/importing/check_collada.h"

#include "base/file/refuse_file.h"
#include "mesh/syntax/xml_tag.h"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <fmt/format.h>
#include <map>
#include <optional>
#include <vector>

namespace leastwall {
namespace {

constexpr std::string_view kBlanks = " \t\r\n";

std::uint64_t words_in(std::string_view list) {
  std::uint64_t words = 0;
  for (std::size_t at = 0; (at = list.find_first_not_of(kBlanks, at)) != list.npos; ++words)
    at = std::min(list.find_first_of(kBlanks, at), list.size());
  return words;
}

[[noreturn]] void refuse(const MappedFile& file, const std::string& what) {
  refuse_file(file.path(), what, "the file is damaged or malformed: export the mesh again");
}

void check_list(const MappedFile& file, std::string_view name, std::string_view list) {
  const std::size_t odd = list.find_first_not_of("0123456789 \t\r\n");
  if (odd == list.npos)
    return;
  const std::size_t length = list.find_first_of(kBlanks, odd) - odd;
  refuse(file, fmt::format("COLLADA list <{}> holds \"{}\" where a whole number was expected", name,
                           one_line(list.substr(odd, length), 40)));
}

/// Arrays of numbers, and what reads them.
class Arrays {
 public:
  explicit Arrays(const MappedFile& file) : file_(file) {}

  void add_array(std::string_view tag, std::string_view list) {
    const std::uint64_t words = words_in(list);
    check_numbers(list);
    if (const std::uint64_t said = number(tag, "count", "float_array", std::nullopt); said != words)
      refuse(file_,
             fmt::format("a COLLADA float_array announces {} numbers and holds {}", said, words));
    if (const auto id = attribute(tag, "id"))
      words_[*id] = words;
  }

  void add_accessor(std::string_view tag) {
    const auto source = attribute(tag, "source");
    if (source && source->starts_with('#'))
      readers_.push_back({source->substr(1), number(tag, "count", "accessor", std::nullopt),
                          number(tag, "stride", "accessor", 1),
                          number(tag, "offset", "accessor", 0)});
  }

  void check() const {
    for (const Reader& r : readers_) {
      const auto array = words_.find(r.id);
      if (array == words_.end() || r.count == 0)
        continue; // of another kind, or in another file
      const std::uint64_t words = array->second;
      if (r.offset > words || r.stride == 0 || r.count > (words - r.offset) / r.stride)
        refuse(file_, fmt::format("a COLLADA accessor reads {} times {} numbers from number {} on, "
                                  "and its array holds {}",
                                  r.count, r.stride, r.offset, words));
    }
  }

 private:
  void check_numbers(std::string_view list) const {
    for (std::size_t at = 0; (at = list.find_first_not_of(kBlanks, at)) != list.npos;) {
      const std::size_t end = std::min(list.find_first_of(kBlanks, at), list.size());
      std::string_view word = list.substr(at, end - at);
      word.remove_prefix(word.size() > 1 && word[0] == '+' && word[1] != '-' ? 1 : 0);
      double value = 0;
      const auto [stop, error] = std::from_chars(word.data(), word.data() + word.size(), value);
      if (error == std::errc::invalid_argument || stop != word.data() + word.size())
        refuse(file_, fmt::format("a COLLADA float_array holds \"{}\", which is no number",
                                  one_line(word, 40)));
      at = end;
    }
  }

  struct Reader {
    std::string_view id;
    std::uint64_t count, stride, offset;
  };

  std::uint64_t number(std::string_view tag, std::string_view name, std::string_view of,
                       std::optional<std::uint64_t> otherwise) const {
    const auto text = attribute(tag, name);
    if (!text && otherwise)
      return *otherwise;
    std::uint64_t value = 0;
    const std::string_view digits = text.value_or("");
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (digits.empty() || error != std::errc{} || end != digits.data() + digits.size())
      refuse(file_, fmt::format("the {} of a COLLADA {} is missing or no whole number", name, of));
    return value;
  }

  const MappedFile& file_;
  std::map<std::string_view, std::uint64_t> words_;
  std::vector<Reader> readers_;
};

} // namespace

void check_collada(const MappedFile& file) {
  const std::string_view text = file.text();
  Arrays arrays(file);
  std::size_t at = 0;
  while (const auto placed = next_tag(text, at)) {
    const std::string_view tag = placed->text;
    const std::string_view name = tag_name(tag);
    const std::size_t begin = placed->end;
    const bool empty = tag.ends_with('/');
    const std::size_t end = empty ? begin : std::min(text.find('<', begin), text.size());
    const std::string_view list = text.substr(std::min(begin, text.size()), end - begin);
    if (name == "p" || name == "vcount")
      check_list(file, name, list);
    else if (name == "float_array")
      arrays.add_array(tag, list);
    else if (name == "accessor")
      arrays.add_accessor(tag);
    else
      continue;
    at = end;
  }
  if (at == text.npos) // else the importer says that the XML is not whole
    arrays.check();
}

} // namespace leastwall
