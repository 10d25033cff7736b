#include "app/output/made_folder.h"

#include "app/os/crash_handler.h"
#include "app/os/rollback_registry.h"
#include "base/errors.h"

#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace leastwall {

namespace fs = std::filesystem;

MadeFolder::MadeFolder(const fs::path& folder, bool with_parents) {
  std::error_code error;
  std::vector<fs::path> missing;
  for (fs::path at = fs::absolute(folder, error).lexically_normal(); !fs::exists(at, error);
       at = at.parent_path()) {
    if (at.filename().empty()) { // "name/" is the folder "name"
      if (at == at.root_path())
        break;
      continue;
    }
    missing.push_back(at);
    if (!with_parents)
      break;
  }
  try {
    for (auto at = missing.rbegin(); at != missing.rend(); ++at)
      make(*at);
    if (!fs::is_directory(folder, error))
      throw InputError(fmt::format("{}: no folder can be made there ({}); check the path",
                                   folder.string(),
                                   error ? error.message() : "a file of that name is in the way"));
  } catch (...) {
    for (auto at = made_.rbegin(); at != made_.rend(); ++at) {
      ::rmdir(at->folder.c_str());
      forget_unfinished(at->slot);
    }
    throw;
  }
}

void MadeFolder::make(const fs::path& folder) {
  made_.reserve(made_.size() + 1); // nothing may throw once it is made
  fs::path name = folder;
  int error = 0;
  {
    const auto held = hold_ending(); // no end between making and remembering it
    error = ::mkdir(folder.c_str(), 0777) == 0 ? 0 : errno;
    if (error == 0)
      made_.push_back({std::move(name), remember_folder(folder.c_str())});
  }
  if (error != 0 && error != EEXIST)
    throw InputError(fmt::format("{}: no folder can be made there ({}); check the path",
                                 folder.string(), std::strerror(error)));
}

MadeFolder::~MadeFolder() {
  for (auto at = made_.rbegin(); at != made_.rend(); ++at) {
    ::rmdir(at->folder.c_str()); // only when empty
    forget_unfinished(at->slot);
  }
}

void MadeFolder::keep() noexcept {
  for (const Made& made : made_)
    forget_unfinished(made.slot);
  made_.clear();
}

} // namespace leastwall
