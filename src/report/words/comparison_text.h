// Before and after of two checks in words, for text and page.
#pragma once

#include "report/comparison.h"
#include "report/words/length_text.h"

#include <array>
#include <string>
#include <vector>

namespace leastwall {

/// What stands where one of the two does not tell it.
inline constexpr const char* kNotTold = "not told";

/// A verdict of the JSON as words; kNotTold for none.
std::string compared_verdict(const std::string& word);
/// As odds, or kNotTold.
std::string compared_odds(const std::optional<double>& fraction);

/// What it is, before, now: verdict, least wall expected and at worst, chance.
std::vector<std::array<std::string, 3>> comparison_rows(const Comparison& against,
                                                        const LengthText& words);

/// A heading and what stands under it, a line each; without lines it is a sentence of its own.
struct ComparisonBlock {
  std::string heading;
  std::vector<std::string> lines;
};
/// Set-up, what is not compared, meshes.
std::vector<ComparisonBlock> comparison_blocks(const Comparison& against);

/// How many walls only one of the two has; empty for none.
std::string walls_of_one_text(const Comparison& against);

} // namespace leastwall
