// Where the program lies.
#pragma once

#include <filesystem>
#include <system_error>

namespace leastwall {

/// The folder of the running program, links followed; empty where the system does not tell.
inline std::filesystem::path program_folder() {
  std::error_code ignored;
  return std::filesystem::read_symlink("/proc/self/exe", ignored).parent_path();
}

} // namespace leastwall
