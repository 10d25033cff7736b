// Files that appear whole or not at all.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace leastwall {

/// One output of a run. The constructor opens a temporary file beside `target`, so that a folder
/// that cannot be written is known before the long computation. Then write(), flush(), place() and
/// keep(), each for all outputs of the run before the next: until keep() the old state comes back
/// when the run fails. Links are followed, also those whose file is not there yet; devices and
/// pipes are written to as they are.
/// What happens to a file that is there.
enum class OldFile { replaced, kept };

class OutputFile {
 public:
  /// Throws InputError when the folder is missing or cannot be written, or the target is no file;
  /// with OldFile::kept also when there is anything of that name, here and in place().
  explicit OutputFile(const std::filesystem::path& target, OldFile old = OldFile::replaced);
  ~OutputFile();
  OutputFile(OutputFile&& other) noexcept;
  OutputFile(const OutputFile&) = delete;
  OutputFile& operator=(const OutputFile&) = delete;
  OutputFile& operator=(OutputFile&&) = delete;

  /// Writes all bytes to the temporary file. Throws RunError (disk full, ...).
  void write(std::string_view bytes);
  /// Makes sure that the bytes are on the disk. Throws RunError.
  void flush();
  /// Puts the new file in its place and the old one aside. Throws RunError.
  void place();
  /// The run has succeeded: the old file goes.
  void keep() noexcept;
  const std::filesystem::path& target() const { return target_; }
  /// A device or a pipe: bytes go to it as they are written, and its reader may be slow.
  bool written_directly() const { return temporary_.empty(); }

 private:
  enum class State { writing, flushed, placed, exchanged, done };
  void undo() noexcept;

  std::filesystem::path target_;
  OldFile old_ = OldFile::replaced;
  std::string temporary_; ///< empty for a device or pipe
  int fd_ = -1;
  int slot_ = -1; ///< among the files that must not be left behind
  State state_ = State::writing;
};

} // namespace leastwall
