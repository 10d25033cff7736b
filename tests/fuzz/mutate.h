// Damage to a file, as transfers, editors, buggy writers and bad intent do it.
#pragma once

#include <random>
#include <string>

namespace leastwall::fuzz {

/// One to six changes, mostly few: bits flipped, bytes replaced, cut off, blocks doubled, moved,
/// taken out or repeated many times, and numbers of a text replaced by ones that hurt. The same
/// generator state gives the same bytes on every machine (only its raw output is used).
std::string mutated(std::string bytes, std::mt19937_64& random);

} // namespace leastwall::fuzz
