#include "field/voxel_grid.h"

#include "base/errors.h"
#include "base/file/program_folder.h"

#include <dlfcn.h>
#include <filesystem>
#include <string>
#include <string_view>
#include <unistd.h>

namespace leastwall {
namespace {

constexpr const char* kModule = "leastwall-field.so";

/// The module: beside our own executable, where the build says that it is installed, or one folder
/// up (tests).
std::filesystem::path module_file() {
  namespace fs = std::filesystem;
  const fs::path here = program_folder();
  for (const fs::path& folder : {here, here / LEASTWALL_MODULE_DIR, here.parent_path()})
    if (::access((folder / kModule).c_str(), R_OK) == 0)
      return folder / kModule;
  throw RunError(std::string(kModule) + ": not found beside the program; install leastwall again");
}

} // namespace

void* field_function(const char* name) {
  const std::filesystem::path file = module_file();
  void* module = ::dlopen(file.c_str(), RTLD_NOW | RTLD_LOCAL); // stays for the whole run
  if (module == nullptr)
    throw RunError(file.string() + ": cannot be loaded; free some memory, or install leastwall "
                                   "again");
  const auto* version = static_cast<const char* const*>(::dlsym(module, kFieldVersion));
  void* found = ::dlsym(module, name);
  if (found == nullptr || version == nullptr || std::string_view(*version) != LEASTWALL_VERSION)
    throw RunError(file.string() + ": is of another version; install leastwall again");
  return found;
}

std::unique_ptr<VoxelGrid> make_voxel_grid(const VoxelGridInput& input, const RunContext& run) {
  static auto* const make = reinterpret_cast<MakeVoxelGrid*>(field_function(kMakeVoxelGrid));
  return std::unique_ptr<VoxelGrid>(make(input, run));
}

} // namespace leastwall
