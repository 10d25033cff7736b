// Is a PDF whole? Cairo's PDF writer drops some errors (a font it had no memory for), so that what
// it made is looked through before it is handed on.
#pragma once

#include <string_view>

namespace leastwall {

/// True when every object of the cross-reference table stands where the table says and every
/// deflated stream inflates to its end. Source: ISO 32000-1:2008, 7.5.4 and 7.3.8; for the one
/// form that is written here (one table, no object streams).
bool pdf_is_whole(std::string_view pdf);

} // namespace leastwall
