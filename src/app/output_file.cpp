#include "app/output_file.h"

#include "base/errors.h"

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>
#include <utility>

namespace leastwall {
namespace {

[[noreturn]] void fail(const std::filesystem::path& target, int error) {
  throw RunError(fmt::format("{}: could not be written ({}); nothing was left half-written",
                             target.string(), std::strerror(error)));
}

} // namespace

OutputFile::OutputFile(std::filesystem::path target) : target_(std::move(target)) {
  std::error_code ignored;
  if (std::filesystem::is_directory(target_, ignored))
    throw InputError(
        fmt::format("{}: is a folder; give the name of a file to write", target_.string()));
  // A link is followed: the file it names is replaced, not the link.
  if (std::filesystem::is_symlink(target_, ignored))
    if (const auto real = std::filesystem::canonical(target_, ignored); !ignored)
      target_ = real;
  // A device or pipe is written to; renaming over it would replace it.
  if (std::filesystem::exists(target_, ignored) &&
      !std::filesystem::is_regular_file(target_, ignored)) {
    fd_ = ::open(target_.c_str(), O_WRONLY | O_CLOEXEC);
    if (fd_ < 0)
      throw InputError(fmt::format("{}: cannot be written ({}); give the name of a file",
                                   target_.string(), std::strerror(errno)));
    return;
  }
  temporary_ = target_.string() + ".XXXXXX.tmp";
  fd_ = ::mkostemps(temporary_.data(), 4, O_CLOEXEC);
  if (fd_ < 0) {
    const int error = errno;
    temporary_.clear();
    throw InputError(fmt::format("{}: cannot be written there ({}); check the folder",
                                 target_.string(), std::strerror(error)));
  }
}

OutputFile::OutputFile(OutputFile&& other) noexcept
    : target_(std::move(other.target_)), temporary_(std::exchange(other.temporary_, {})),
      fd_(std::exchange(other.fd_, -1)) {}

OutputFile::~OutputFile() {
  if (fd_ >= 0)
    ::close(fd_);
  if (!temporary_.empty())
    ::unlink(temporary_.c_str());
}

void OutputFile::write(std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t n = ::write(fd_, bytes.data(), bytes.size());
    if (n < 0 && errno == EINTR)
      continue;
    if (n <= 0)
      fail(target_, n < 0 ? errno : ENOSPC);
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
}

void OutputFile::commit() {
  if (temporary_.empty()) { // a device or pipe: all is written
    if (::close(std::exchange(fd_, -1)) != 0)
      fail(target_, errno);
    return;
  }
  // mkostemps makes files private; a report is as readable as any file the user makes.
  const mode_t mask = ::umask(0);
  ::umask(mask);
  if (::fchmod(fd_, 0666 & ~mask) != 0 || ::fsync(fd_) != 0)
    fail(target_, errno);
  if (::close(std::exchange(fd_, -1)) != 0)
    fail(target_, errno);
  if (::rename(temporary_.c_str(), target_.c_str()) != 0)
    fail(target_, errno);
  temporary_.clear();
}

} // namespace leastwall
