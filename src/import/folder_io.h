// The files that an import may open: regular ones, for reading, in the model's folder or below it.
#pragma once

#include <assimp/DefaultIOSystem.h>
#include <filesystem>

namespace leastwall::import {

class FolderIo final : public Assimp::DefaultIOSystem {
 public:
  explicit FolderIo(const std::filesystem::path& model);
  bool Exists(const char* file) const override;
  Assimp::IOStream* Open(const char* file, const char* mode) override;

 private:
  bool allowed(const char* file) const;

  std::filesystem::path folder_; // canonical
};

} // namespace leastwall::import
