#include "mesh/importing/collada_up.h"

#include "mesh/syntax/xml_tag.h"

namespace leastwall {

char collada_up(std::string_view text) {
  // The document's own asset comes first in it.
  std::size_t at = 0;
  while (const auto tag = next_tag(text, at)) {
    if (tag->text.starts_with("/asset"))
      break;
    const std::string_view name = tag_name(tag->text);
    if (name.starts_with("library_"))
      break;
    if (name != "up_axis")
      continue;
    const std::string_view word = text.substr(tag->end, text.find('<', tag->end) - tag->end);
    if (word.find("X_UP") != word.npos)
      return 'x';
    if (word.find("Z_UP") != word.npos)
      return 'z';
    break;
  }
  return 'y';
}

} // namespace leastwall
