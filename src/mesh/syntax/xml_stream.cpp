#include "mesh/syntax/xml_stream.h"

namespace leastwall {

void XmlStream::add(std::string_view piece, const std::function<void(std::string_view)>& on_tag) {
  constexpr std::size_t kLongestOpening = 9; // <![CDATA[
  struct Passed {
    std::string_view begin, end;
  };
  static constexpr Passed kPassed[] = {{"<!--", "-->"}, {"<![CDATA[", "]]>"}, {"<?", "?>"}};
  pending_ += piece;
  std::size_t at = 0;
  for (;;) {
    const std::size_t open = pending_.find('<', at);
    if (open == pending_.npos) {
      at = pending_.size();
      break;
    }
    const Passed* passed = nullptr;
    for (const Passed& p : kPassed)
      if (pending_.compare(open, p.begin.size(), p.begin) == 0)
        passed = &p;
    const std::size_t close = passed != nullptr
                                  ? pending_.find(passed->end, open + passed->begin.size())
                                  : end_of_tag(open);
    const bool may_be_passed = passed == nullptr && pending_.compare(open, 2, "<!") == 0 &&
                               pending_.size() - open < kLongestOpening;
    if (close == pending_.npos || may_be_passed) {
      at = open;
      break;
    }
    if (passed == nullptr)
      on_tag(std::string_view(pending_).substr(open + 1, close - open - 1));
    at = close + (passed != nullptr ? passed->end.size() : 1);
  }
  pending_.erase(0, at);
}

/// The '>' that ends the tag, not one within quotes.
std::size_t XmlStream::end_of_tag(std::size_t open) const {
  char quote = 0;
  for (std::size_t i = open; i < pending_.size(); ++i) {
    const char c = pending_[i];
    if (quote != 0)
      quote = c == quote ? '\0' : quote;
    else if (c == '"' || c == '\'')
      quote = c;
    else if (c == '>')
      return i;
  }
  return pending_.npos;
}

} // namespace leastwall
