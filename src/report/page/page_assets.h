// Fixed text of the page, put into the program when it is built (cmake/EmbedPage.cmake).
#pragma once

#include <string_view>

namespace leastwall {

std::string_view page_template(); ///< HTML with {{NAME}} where something is filled in
std::string_view page_style();    ///< CSS
std::string_view page_script();   ///< the page's own JavaScript, its files in order of their names
std::string_view page_three();    ///< three.js as Debian's libjs-three ships it (MIT)

} // namespace leastwall
