// base/file/mapped_file.h where files are bytes in memory already: they are copied once.
#include "base/file/mapped_file.h"

#include "base/file/refuse_file.h"
#include "base/file/text_file.h"

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <new>
#include <string>
#include <sys/stat.h>
#include <unistd.h>

namespace leastwall {

// Nothing can be taken away from bytes that are ours.
MapGuard::MapGuard(const void*, std::size_t) {}
MapGuard::~MapGuard() = default;
bool MapGuard::filled() const {
  return slot_ >= 0;
}

MappedFile::MappedFile(const std::filesystem::path& file) : path_(file) {
  handle_ = ::open(file.c_str(), O_RDONLY);
  if (handle_ < 0)
    throw_open_error(one_line(file.native(), 4096) + ": cannot be opened", errno,
                     "check the name and the permissions");
  struct stat facts {};
  const bool regular = ::fstat(handle_, &facts) == 0 && S_ISREG(facts.st_mode);
  if (!regular || facts.st_size <= 0) {
    ::close(handle_);
    if (!regular)
      refuse_file(file, "is not a regular file", "name a file");
    refuse_file(file, "is empty", "export the mesh again");
  }
  size_ = static_cast<std::uint64_t>(facts.st_size);
  char* bytes = static_cast<char*>(std::malloc(static_cast<std::size_t>(size_)));
  if (bytes == nullptr) {
    ::close(handle_);
    throw std::bad_alloc();
  }
  data_ = bytes;
  std::uint64_t have = 0;
  while (have < size_) {
    const ssize_t got = ::read(handle_, bytes + have, static_cast<std::size_t>(size_ - have));
    if (got <= 0)
      break;
    have += static_cast<std::uint64_t>(got);
  }
  if (have < size_) {
    std::free(bytes);
    ::close(handle_);
    refuse_file(file, "could not be read to its end", "choose the file again");
  }
}

MappedFile::~MappedFile() {
  std::free(const_cast<char*>(data_));
  ::close(handle_);
}

void MappedFile::copy(std::uint64_t offset, char* to, std::size_t size) const {
  std::memcpy(to, data_ + offset, size);
}

void MappedFile::check_unchanged() const {}

} // namespace leastwall
