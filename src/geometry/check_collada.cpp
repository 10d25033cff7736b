#include "geometry/check_collada.h"

#include "geometry/refuse_file.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr std::string_view kBlanks = " \t\r\n";

/// "p" of the tag `p`, `x:p ` or `p/`; empty for end tags and all that is no element.
std::string_view element_name(std::string_view tag) {
  tag = tag.substr(0, std::min(tag.find_first_of(" \t\r\n/"), tag.size()));
  const std::size_t colon = tag.rfind(':');
  return colon == tag.npos ? tag : tag.substr(colon + 1);
}

} // namespace

void check_collada(const MappedFile& file) {
  const std::string_view text = file.text();
  std::size_t at = 0;
  while ((at = text.find('<', at)) != text.npos) {
    ++at;
    const std::size_t close = text.find('>', at);
    if (close == text.npos)
      return; // the importer says that the XML is not whole
    const std::string_view name = element_name(text.substr(at, close - at));
    if ((name != "p" && name != "vcount") || text[close - 1] == '/')
      continue;
    const std::size_t begin = close + 1;
    const std::size_t end = std::min(text.find('<', begin), text.size());
    const std::string_view list = text.substr(begin, end - begin);
    const std::size_t odd = list.find_first_not_of("0123456789 \t\r\n");
    if (odd != list.npos) {
      const std::size_t length = list.find_first_of(kBlanks, odd) - odd;
      refuse_file(file.path(),
                  fmt::format("COLLADA list <{}> holds \"{}\" where a whole number was expected",
                              name, one_line(list.substr(odd, length), 40)),
                  "the file is damaged or malformed: export the mesh again");
    }
    at = end;
  }
}

} // namespace leastwall
