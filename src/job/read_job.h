// From a job file to a job. Strict: an unknown key, a wrong kind of value, a missing file, a value
// out of range or a contradiction is one line "FILE:LINE: what is wrong; what to do" (InputError).
#pragma once

#include "job/job.h"

#include <filesystem>
#include <string>
#include <string_view>

namespace leastwall {

struct JobTextOptions {
  std::string name = "job";     ///< of the file, for messages
  std::filesystem::path folder; ///< where relative paths start
  bool files_must_exist = true; ///< meshes (readings are always read)
};

/// Reads and checks a job file. Throws InputError; RunError when reading fails midway.
Job read_job(const std::filesystem::path& file);

/// The same for text in memory.
Job parse_job(std::string_view text, const JobTextOptions& options = {});

} // namespace leastwall
