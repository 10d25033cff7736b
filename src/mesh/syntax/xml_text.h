// XML text that lies in memory, as tags and the text that follows each. Source: as xml_stream.h.
#pragma once

#include <algorithm>
#include <string_view>

namespace leastwall {

/// Calls on_tag(tag, following) for each tag of `text`, without its angle brackets, with the text
/// up to the next '<'. Comments, instructions and CDATA are passed over. False when the last tag is
/// not closed.
template <class OnTag> bool for_each_tag(std::string_view text, const OnTag& on_tag) {
  struct Passed {
    std::string_view begin, end;
  };
  constexpr Passed kPassed[] = {{"<!--", "-->"}, {"<![CDATA[", "]]>"}, {"<?", "?>"}};
  for (std::size_t at = text.find('<'); at != text.npos; at = text.find('<', at)) {
    std::string_view end = ">";
    std::size_t from = at;
    bool passed = false;
    for (const Passed& p : kPassed)
      if (text.substr(at).starts_with(p.begin)) {
        end = p.end;
        from = at + p.begin.size();
        passed = true;
      }
    std::size_t close = from;
    if (passed) {
      close = text.find(end, from);
    } else { // not a '>' within quotes
      for (char quote = 0; close < text.size() && (quote != 0 || text[close] != '>'); ++close)
        if (quote != 0)
          quote = text[close] == quote ? '\0' : quote;
        else if (text[close] == '"' || text[close] == '\'')
          quote = text[close];
    }
    if (close >= text.size())
      return false;
    const std::size_t begin = close + end.size();
    if (!passed)
      on_tag(text.substr(at + 1, close - at - 1),
             text.substr(begin, std::min(text.find('<', begin), text.size()) - begin));
    at = begin;
  }
  return true;
}

} // namespace leastwall
