#include "mesh/syntax/xml_tag.h"

#include <algorithm>

namespace leastwall {
namespace {

std::string_view local_name(std::string_view name) {
  const std::size_t colon = name.rfind(':');
  return colon == name.npos ? name : name.substr(colon + 1);
}

/// Value of the first attribute whose name, prefix included, is_it() accepts.
template <class IsIt>
std::optional<std::string_view> first_attribute(std::string_view tag, const IsIt& is_it) {
  for (std::size_t equals = tag.find('='); equals != tag.npos;) {
    const std::size_t open = tag.find_first_of("\"'", equals);
    if (open == tag.npos)
      return std::nullopt;
    const std::size_t close = tag.find(tag[open], open + 1);
    if (close == tag.npos)
      return std::nullopt;
    std::size_t end = equals;
    while (end > 0 && std::string_view(" \t\r\n").find(tag[end - 1]) != std::string_view::npos)
      --end;
    const std::size_t begin = tag.find_last_of(" \t\r\n\"'", end - 1) + 1;
    if (is_it(tag.substr(begin, end - begin)))
      return tag.substr(open + 1, close - open - 1);
    equals = tag.find('=', close);
  }
  return std::nullopt;
}

} // namespace

std::optional<PlacedTag> next_tag(std::string_view text, std::size_t& at) {
  while ((at = text.find('<', at)) != text.npos) {
    ++at;
    if (text.substr(at).starts_with("!--")) {
      at = std::min(text.find("-->", at), text.size());
      continue;
    }
    const std::size_t close = text.find('>', at);
    if (close == text.npos)
      return std::nullopt;
    return PlacedTag{text.substr(at, close - at), close + 1};
  }
  return std::nullopt;
}

std::string_view tag_name(std::string_view tag) {
  return local_name(tag.substr(0, tag.find_first_of(" \t\r\n/")));
}

std::optional<std::string_view> attribute(std::string_view tag, std::string_view name) {
  return first_attribute(tag, [name](std::string_view n) { return local_name(n) == name; });
}

std::optional<std::string_view> plain_attribute(std::string_view tag, std::string_view name) {
  return first_attribute(tag, [name](std::string_view n) { return n == name; });
}

} // namespace leastwall
