// XML text that comes in pieces, as the tags in it. Source: W3C, "Extensible Markup Language (XML)
// 1.0", 2.4 (character data), 2.5 (comments), 2.6 (instructions), 2.7 (CDATA), 3.1 (tags).
#pragma once

#include <functional>
#include <string>
#include <string_view>

namespace leastwall {

class XmlStream {
 public:
  /// Calls on_tag(tag) for each tag that `piece` completes, without its angle brackets: "p a='1'",
  /// "/p", "p/". Comments, instructions, CDATA and text between tags are passed over.
  void add(std::string_view piece, const std::function<void(std::string_view)>& on_tag);
  /// Bytes that wait for the rest of their tag.
  std::size_t unfinished() const { return pending_.size(); }

 private:
  std::size_t end_of_tag(std::size_t open) const;

  std::string pending_;
};

} // namespace leastwall
