// Files that an earlier run left, and files of someone else's.
#pragma once

#include <filesystem>
#include <span>
#include <string>

namespace leastwall {

/// Throws InputError when the folder has a file of one of these names that no earlier run left:
/// then there is no report of a run (check.json) beside it.
void require_own_files(const std::filesystem::path& folder, std::span<const std::string> names);

} // namespace leastwall
