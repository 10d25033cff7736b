// The JSON of a check, read back to be compared.
#pragma once

#include "report/comparison.h"

#include <cstddef>
#include <string>
#include <string_view>

namespace leastwall {

/// A file that is larger was not written by a check, bytes.
inline constexpr std::size_t kLargestEarlierCheck = 16'000'000;

/// Compares two checks by their JSON; `file` names the earlier one. What one of them does not tell
/// is absent, never 0. Throws InputError where `before` is too large, no JSON, not of a check, of
/// another version, or damaged.
Comparison compared_checks(std::string_view before, const std::string& file,
                           std::string_view after);

/// Throws as compared_checks does, so that a file of no use is known before the long part.
void require_earlier_check(std::string_view before, const std::string& file);

} // namespace leastwall
