#include "mesh/importing/collada_up.h"

#include "mesh/syntax/xml_tag.h"

#include <algorithm>

namespace leastwall {

char collada_up(std::string_view text) {
  // The document's own asset comes first in it.
  std::size_t at = 0;
  while ((at = text.find('<', at)) != text.npos) {
    ++at;
    if (text.substr(at).starts_with("!--")) {
      at = std::min(text.find("-->", at), text.size());
      continue;
    }
    const std::size_t close = text.find('>', at);
    if (close == text.npos || text.substr(at).starts_with("/asset"))
      break;
    const std::string_view name = tag_name(text.substr(at, close - at));
    if (name.starts_with("library_"))
      break;
    if (name != "up_axis")
      continue;
    const std::string_view word = text.substr(close + 1, text.find('<', close) - close - 1);
    if (word.find("X_UP") != word.npos)
      return 'x';
    if (word.find("Z_UP") != word.npos)
      return 'z';
    break;
  }
  return 'y';
}

} // namespace leastwall
