// What stands in one start tag of XML text. Source: W3C, "Extensible Markup Language
// (XML) 1.0", 3.1.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace leastwall {

struct PlacedTag {
  std::string_view text; ///< without its angle brackets
  std::size_t end = 0;   ///< of the text that it stands in, behind its bracket
};

/// The tag that opens next from `at` on, comments passed over; `at` goes behind its bracket. Absent
/// where none opens any more (`at` is npos then) and where it is not closed.
std::optional<PlacedTag> next_tag(std::string_view text, std::size_t& at);

/// Name of the element of a tag, given without its angle brackets and with its namespace prefix
/// left out: "p" of `p`, `x:p a="1"` or `p/`. Empty for end tags.
std::string_view tag_name(std::string_view tag);

/// Value of an attribute as it stands, entities included, its namespace prefix ignored; absent when
/// the tag has none of that name.
std::optional<std::string_view> attribute(std::string_view tag, std::string_view name);

/// As attribute(), for exactly this name: "unit" is not `x:unit`.
std::optional<std::string_view> plain_attribute(std::string_view tag, std::string_view name);

} // namespace leastwall
