// Help for a misspelt key or word.
#pragma once

#include <cstddef>
#include <span>
#include <string_view>

namespace leastwall {

/// Least number of letters to put in, take out, change, or swap with their neighbour (each stretch
/// edited once: optimal string alignment, Damerau 1964) that turns `a` into `b`.
std::size_t edit_distance(std::string_view a, std::string_view b);

/// The word of `words` nearest to `word`, capitals or not, the first of several; empty when none is
/// near (more than a third of its letters differ, but two always count as near).
std::string_view nearest(std::string_view word, std::span<const std::string_view> words);

} // namespace leastwall
