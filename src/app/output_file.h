// Files that appear whole or not at all.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace leastwall {

/// One output of a run. The constructor opens a temporary file beside `target`, so that a folder
/// that cannot be written is known before the long computation; commit() writes, flushes and
/// renames. Without a commit nothing is left behind and an existing target stays as it was. Links
/// are followed; devices and pipes are written to as they are.
class OutputFile {
 public:
  /// Throws InputError when the folder is missing or cannot be written, or the target is no file.
  explicit OutputFile(std::filesystem::path target);
  ~OutputFile();
  OutputFile(OutputFile&& other) noexcept;
  OutputFile(const OutputFile&) = delete;
  OutputFile& operator=(const OutputFile&) = delete;
  OutputFile& operator=(OutputFile&&) = delete;

  /// Writes all bytes to the temporary file. Throws RunError (disk full, ...).
  void write(std::string_view bytes);
  /// Puts the written file in its place. Throws RunError.
  void commit();
  const std::filesystem::path& target() const { return target_; }

 private:
  std::filesystem::path target_;
  std::string temporary_;
  int fd_ = -1;
};

} // namespace leastwall
