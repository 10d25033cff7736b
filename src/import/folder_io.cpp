#include "import/folder_io.h"

#include <algorithm>
#include <cstring>

namespace leastwall::import {

namespace fs = std::filesystem;

FolderIo::FolderIo(const fs::path& model) : folder_(fs::canonical(model.parent_path())) {}

bool FolderIo::allowed(const char* file) const {
  std::error_code error;
  const fs::path whole = fs::canonical(file, error); // links resolved, ".." gone
  if (error || !fs::is_regular_file(whole, error))
    return false;
  return std::mismatch(folder_.begin(), folder_.end(), whole.begin(), whole.end()).first ==
         folder_.end();
}

bool FolderIo::Exists(const char* file) const {
  return allowed(file) && DefaultIOSystem::Exists(file);
}

Assimp::IOStream* FolderIo::Open(const char* file, const char* mode) {
  if (std::strpbrk(mode, "wa+") != nullptr || !allowed(file))
    return nullptr;
  return DefaultIOSystem::Open(file, mode);
}

} // namespace leastwall::import
