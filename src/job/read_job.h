// From a job file to a job. Strict: an unknown key, a wrong kind of value, a missing file, a value
// out of range or a contradiction is one line "FILE:LINE: what is wrong; what to do" (InputError).
#pragma once

#include "job/job.h"

#include <filesystem>
#include <string>
#include <string_view>

namespace leastwall {

/// Whether the meshes of pockets must be named and be there.
enum class PocketMeshes { needed, to_be_made };

struct JobTextOptions {
  std::string name = "job";     ///< of the file, for messages
  std::filesystem::path folder; ///< where relative paths start
  bool files_must_exist = true; ///< meshes (readings are always read)
  PocketMeshes pockets = PocketMeshes::needed;
};

/// Reads and checks a job file. Throws InputError; RunError when reading fails midway.
Job read_job(const std::filesystem::path& file, PocketMeshes pockets = PocketMeshes::needed);

/// The same for text in memory.
Job parse_job(std::string_view text, const JobTextOptions& options = {});

} // namespace leastwall
