// A folder for outputs, made when it is missing and taken away again when the run fails.
#pragma once

#include <filesystem>
#include <utility>
#include <vector>

namespace leastwall {

class MadeFolder {
 public:
  /// Makes `folder`, and those above it too where `with_parents`. Throws InputError.
  MadeFolder(const std::filesystem::path& folder, bool with_parents);
  /// Removes what was made, when it is empty and keep() was not called.
  ~MadeFolder();
  MadeFolder(const MadeFolder&) = delete;
  MadeFolder& operator=(const MadeFolder&) = delete;

  void keep() noexcept;

 private:
  void make(const std::filesystem::path& folder);

  struct Made {
    std::filesystem::path folder;
    int slot; ///< among what must not be left behind
  };
  std::vector<Made> made_; ///< outermost first
};

} // namespace leastwall
