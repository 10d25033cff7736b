#include "base/file/mapped_file.h"

#include "base/file/refuse_file.h"
#include "base/file/text_file.h"

#include <cerrno>
#include <fcntl.h>
#include <string>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

namespace leastwall {
namespace {

[[noreturn]] void refuse_changed(const std::filesystem::path& file) {
  refuse_file(file, "was changed while it was read", "wait until it is complete, then run again");
}

[[noreturn]] void refuse_unread(const std::filesystem::path& file) {
  refuse_file(file, "could not be read to its end: the disk fails", "check the disk");
}

[[noreturn]] void refuse_with(const std::filesystem::path& file, const char* what, int error) {
  throw_open_error(one_line(file.native(), 4096) + ": " + what, error,
                   "check the name and the permissions");
}

} // namespace

MappedFile::MappedFile(const std::filesystem::path& file) : path_(file) {
  // O_NONBLOCK: opening a pipe that no one writes to must not hang.
  handle_ = ::open(file.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
  if (handle_ < 0)
    refuse_with(file, "cannot be opened", errno);
  struct stat facts {};
  const bool known = ::fstat(handle_, &facts) == 0;
  const bool regular = known && S_ISREG(facts.st_mode);
  if (!regular || facts.st_size <= 0) {
    ::close(handle_);
    if (!regular)
      refuse_file(file, "is not a regular file", "name a file");
    refuse_file(file, "is empty", "export the mesh again");
  }
  size_ = static_cast<std::uint64_t>(facts.st_size);
  changed_s_ = facts.st_mtim.tv_sec;
  changed_ns_ = facts.st_mtim.tv_nsec;
  void* at = ::mmap(nullptr, static_cast<std::size_t>(size_), PROT_READ, MAP_PRIVATE, handle_, 0);
  if (at == MAP_FAILED) {
    const int error = errno;
    ::close(handle_);
    refuse_with(file, "cannot be mapped into memory", error);
  }
  ::madvise(at, static_cast<std::size_t>(size_), MADV_SEQUENTIAL);
  data_ = static_cast<const char*>(at);
  guard_.emplace(at, static_cast<std::size_t>(size_));
}

MappedFile::~MappedFile() {
  guard_.reset();
  // munmap takes a pointer to non-const although it does not write.
  ::munmap(const_cast<char*>(data_), static_cast<std::size_t>(size_));
  ::close(handle_);
}

void MappedFile::copy(std::uint64_t offset, char* to, std::size_t size) const {
  while (size > 0) {
    const ssize_t got = ::pread(handle_, to, size, static_cast<off_t>(offset));
    if (got < 0 && errno == EINTR)
      continue;
    if (got < 0)
      refuse_unread(path_);
    if (got == 0) // it was longer when it was opened
      refuse_changed(path_);
    to += got;
    offset += static_cast<std::uint64_t>(got);
    size -= static_cast<std::size_t>(got);
  }
}

void MappedFile::check_unchanged() const {
  struct stat facts {};
  if (::fstat(handle_, &facts) != 0 || static_cast<std::uint64_t>(facts.st_size) != size_ ||
      facts.st_mtim.tv_sec != changed_s_ || facts.st_mtim.tv_nsec != changed_ns_)
    refuse_changed(path_);
  if (guard_ && guard_->filled())
    refuse_unread(path_);
}

} // namespace leastwall
