// Files that an earlier run left, and files of someone else's.
#pragma once

#include <filesystem>
#include <span>
#include <string>

namespace leastwall {

/// Throws InputError when the folder has a file of one of these names that no earlier run left:
/// then there is no report of a run (check.json) beside it.
void require_own_files(const std::filesystem::path& folder, std::span<const std::string> names);

/// Throws InputError where a file is there whose name says mesh, field, job or readings: a picture,
/// a PDF or JSON in its place is a slip that costs hours of someone's work.
void require_no_source(const std::string& option, const std::filesystem::path& target);

} // namespace leastwall
