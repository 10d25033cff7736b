// How wide text is: the advance widths of DejaVu Sans, without a font at hand.
#pragma once

#include <string_view>

namespace leastwall {

/// Width of UTF-8 text set in DejaVu Sans or DejaVu Sans Bold (version 2.37, Debian package
/// fonts-dejavu-core: advance widths of its table hmtx, 2048 units an em), in the unit of `size`,
/// the size of the em. No kerning. Latin, Greek, Cyrillic and common signs have their own widths;
/// what the font has no letter for, and what is not in the table, takes 1229 units, as the font's
/// sign for that does. A byte that is not UTF-8 counts as one such sign.
double text_advance(std::string_view utf8, double size, bool bold);

} // namespace leastwall
