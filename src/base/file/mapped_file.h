// A regular file mapped into memory, read-only.
#pragma once

#include "base/file/map_guard.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string_view>

namespace leastwall {

/// Opens and maps a file. Only regular files are accepted: a pipe or a device never blocks us.
/// Throws InputError when the file is missing, unreadable, not regular or empty.
class MappedFile {
 public:
  explicit MappedFile(const std::filesystem::path& file);
  ~MappedFile();
  MappedFile(const MappedFile&) = delete;
  MappedFile& operator=(const MappedFile&) = delete;

  const std::filesystem::path& path() const { return path_; }
  std::uint64_t size() const { return size_; }
  const char* data() const { return data_; }
  std::string_view text() const { return {data_, static_cast<std::size_t>(size_)}; }

  /// Copies `size` bytes from `offset` on, which must be in the file, into `to`. Where each byte is
  /// looked at once, in order, this costs a third of looking at the map, whose pages are then never
  /// mapped.
  /// Throws InputError when they cannot be read.
  void copy(std::uint64_t offset, char* to, std::size_t size) const;

  /// Throws InputError when size or time stamp of the file have changed since it was opened, or
  /// part of it could not be read: what was read may then be a mixture. Bytes that are gone read as
  /// zero.
  void check_unchanged() const;

 private:
  std::filesystem::path path_;
  int handle_ = -1;
  std::uint64_t size_ = 0;
  std::int64_t changed_s_ = 0, changed_ns_ = 0;
  const char* data_ = nullptr;
  std::optional<MapGuard> guard_;
};

} // namespace leastwall
