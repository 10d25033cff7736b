// Text for a terminal of a given width: how wide a piece of UTF-8 is, and breaking it into lines.
#pragma once

#include <string>
#include <string_view>

namespace leastwall {

/// Columns that UTF-8 text takes on a terminal: one a code point, none for combining marks, two
/// for East Asian wide characters (Unicode Standard Annex 11, the large blocks only). A byte that
/// is not UTF-8 counts as one.
int text_columns(std::string_view text);

/// UTF-8 with control characters, code points that stand for none, and bytes that are no UTF-8
/// replaced by "?": names may hold anything, a terminal must not be steered by them, and no drawing
/// fail.
std::string printable(std::string_view text);

/// `text` broken at blanks into lines of at most `width` columns, each ended by a newline. The
/// first line starts with `first`, the following ones with as many blanks as `first` is wide. A
/// word that fits on no line is cut. Runs of blanks count as one; a newline in `text` is a blank.
std::string wrap_text(std::string_view text, int width, std::string_view first = "");

} // namespace leastwall
