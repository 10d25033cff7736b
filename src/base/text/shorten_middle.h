// A text that is too long for its place, without its middle.
#pragma once

#include <functional>
#include <string>
#include <string_view>

namespace leastwall {

/// Whether a text has room.
using TextFits = std::function<bool(const std::string&)>;

/// `text`, or where it has no room as many of its first and last words as have, "..." between them
/// ("the left ... candle room"); rather the end than the beginning ("... candle room"), for it
/// tells names of one kind apart. Where that leaves too little, as of a single word: its first and
/// last letters
/// ("long_na...half.stl"), two of them at least.
std::string shorten_middle(std::string_view text, const TextFits& fits);

/// The same so that it takes at most `columns` of a terminal (text_columns); empty where not even
/// "..." has room.
std::string shorten_middle(std::string_view text, int columns);

/// The same, but where `text` ends with `kept` that end stays whole as long as anything of what
/// stands before it has room, too: "Gourd ... basswood, right half: skin to candle room".
std::string shorten_before(std::string_view text, std::string_view kept, const TextFits& fits);

} // namespace leastwall
