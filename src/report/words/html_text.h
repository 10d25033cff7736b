// Text inside HTML.
#pragma once

#include <string>
#include <string_view>

namespace leastwall {

/// `text` with what HTML reads as its own written as references; good between quotation marks too.
std::string html_text(std::string_view text);

} // namespace leastwall
