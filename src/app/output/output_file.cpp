#include "app/output/output_file.h"

#include "app/os/crash_handler.h"
#include "app/os/rollback_registry.h"
#include "app/output/written_place.h"
#include "base/errors.h"
#include "base/file/text_file.h"

#include <cerrno>
#include <cstdio>
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

[[noreturn]] void is_there(const std::filesystem::path& target) {
  throw InputError(
      fmt::format("{}: exists already and is left as it is; name another file", target.string()));
}

} // namespace

OutputFile::OutputFile(const std::filesystem::path& target, OldFile old)
    : target_(target), old_(old) {
  std::error_code ignored;
  if (old == OldFile::kept &&
      std::filesystem::exists(std::filesystem::symlink_status(target_, ignored)))
    is_there(target_);
  if (std::filesystem::is_directory(target_, ignored))
    throw InputError(
        fmt::format("{}: is a folder; give the name of a file to write", target_.string()));
  // A link is followed: the file it names is replaced, not the link.
  target_ = written_place(target_);
  // A device or pipe is written to; renaming over it would replace it. So is what has no name
  // other than a link, as a file behind /dev/stdout that was removed.
  if (std::filesystem::exists(target_, ignored) &&
      (!std::filesystem::is_regular_file(target_, ignored) ||
       std::filesystem::is_symlink(target_, ignored))) {
    fd_ = ::open(target_.c_str(), O_WRONLY | O_CLOEXEC);
    if (fd_ < 0)
      throw_open_error(target_.string() + ": cannot be written", errno, "give the name of a file");
    return;
  }
  temporary_ = target_.string() + ".XXXXXX.tmp";
  int error = 0;
  {
    const auto held = hold_ending(); // no end between making the file and remembering it
    fd_ = ::mkostemps(temporary_.data(), 4, O_CLOEXEC);
    error = errno;
    if (fd_ >= 0)
      slot_ = remember_temporary(temporary_.c_str());
  }
  if (fd_ < 0) {
    temporary_.clear();
    throw_open_error(target_.string() + ": cannot be written there", error, "check the folder");
  }
}

OutputFile::OutputFile(OutputFile&& other) noexcept
    : target_(std::move(other.target_)), old_(other.old_),
      temporary_(std::exchange(other.temporary_, {})), fd_(std::exchange(other.fd_, -1)),
      slot_(std::exchange(other.slot_, -1)), state_(std::exchange(other.state_, State::done)) {}

OutputFile::~OutputFile() {
  if (fd_ >= 0)
    ::close(fd_);
  if (state_ != State::done && !temporary_.empty())
    undo();
}

void OutputFile::write(std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t n = ::write(fd_, bytes.data(), bytes.size());
    if (n < 0 && errno == EINTR) {
      if (stop_asked())
        throw Cancelled();
      continue;
    }
    if (n <= 0)
      fail(target_, n < 0 ? errno : ENOSPC);
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
}

void OutputFile::flush() {
  if (!temporary_.empty()) {
    // mkostemps makes files private; a report is as readable as any file the user makes.
    const mode_t mask = ::umask(0);
    ::umask(mask);
    if (::fchmod(fd_, 0666 & ~mask) != 0 || ::fsync(fd_) != 0)
      fail(target_, errno);
  }
  if (::close(std::exchange(fd_, -1)) != 0)
    fail(target_, errno);
  state_ = State::flushed;
}

void OutputFile::place() {
  if (temporary_.empty())
    return; // a device or pipe: all is written
  const char *from = temporary_.c_str(), *to = target_.c_str();
  if (old_ == OldFile::kept) {
    // Where the file system cannot rename so, a link can be made only where nothing is.
    if (::renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) != 0) {
      if (errno != EEXIST && errno != EINVAL && errno != ENOSYS)
        fail(target_, errno);
      if (errno == EEXIST || ::link(from, to) != 0) {
        if (errno == EEXIST)
          is_there(target_);
        fail(target_, errno);
      }
      ::unlink(from);
    }
    remember_placed(slot_, to, false);
    state_ = State::placed;
    return;
  }
  if (::renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_EXCHANGE) == 0) {
    remember_placed(slot_, to, true);
    state_ = State::exchanged;
    return;
  }
  // There is no old file, or the file system exchanges none: then the old one goes for good.
  if (errno != ENOENT && errno != EINVAL && errno != ENOSYS)
    fail(target_, errno);
  const bool old = errno != ENOENT;
  if (::rename(from, to) != 0)
    fail(target_, errno);
  if (old) {
    forget_unfinished(std::exchange(slot_, -1));
    state_ = State::done;
  } else {
    remember_placed(slot_, to, false);
    state_ = State::placed;
  }
}

void OutputFile::keep() noexcept {
  forget_unfinished(std::exchange(slot_, -1));
  if (state_ == State::exchanged)
    ::unlink(temporary_.c_str());
  state_ = State::done;
}

void OutputFile::undo() noexcept {
  if (state_ == State::placed)
    ::unlink(target_.c_str());
  if (state_ == State::exchanged)
    ::renameat2(AT_FDCWD, temporary_.c_str(), AT_FDCWD, target_.c_str(), RENAME_EXCHANGE);
  if (state_ != State::placed)
    ::unlink(temporary_.c_str());
  forget_unfinished(std::exchange(slot_, -1));
}

} // namespace leastwall
