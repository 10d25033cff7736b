#include "base/file/text_file.h"

#include "base/errors.h"
#include "base/text/plain_line.h"

#include <algorithm>
#include <cerrno>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace leastwall {
namespace {

namespace fs = std::filesystem;

fs::file_type type_of(mode_t mode) {
  return S_ISREG(mode)    ? fs::file_type::regular
         : S_ISDIR(mode)  ? fs::file_type::directory
         : S_ISFIFO(mode) ? fs::file_type::fifo
         : S_ISCHR(mode)  ? fs::file_type::character
         : S_ISBLK(mode)  ? fs::file_type::block
         : S_ISSOCK(mode) ? fs::file_type::socket
                          : fs::file_type::unknown;
}

std::string words_of(int error) {
  return std::generic_category().message(error);
}

/// Closes what was opened, however the block is left.
struct Handle {
  int fd;
  ~Handle() {
    if (fd >= 0)
      ::close(fd);
  }
};

} // namespace

void throw_open_error(std::string_view what, int error, std::string_view todo) {
  switch (error) {
  case EMFILE:
  case ENFILE:
    throw RunError(
        fmt::format("{} ({}); close other programs or raise the limit on open files (ulimit -n)",
                    what, words_of(error)));
  case ENOMEM:
    throw RunError(fmt::format("{} ({}); close other programs", what, words_of(error)));
  case ENOSPC:
  case EDQUOT:
    throw RunError(fmt::format("{} ({}); free the disk", what, words_of(error)));
  case EIO:
    throw RunError(fmt::format("{} ({}); check the disk", what, words_of(error)));
  default:
    throw InputError(fmt::format("{} ({}); {}", what, words_of(error), todo));
  }
}

std::string_view odd_kind(fs::file_type type) {
  switch (type) {
  case fs::file_type::directory:
    return "a folder";
  case fs::file_type::fifo:
    return "a pipe";
  case fs::file_type::character:
  case fs::file_type::block:
    return "a device";
  case fs::file_type::socket:
    return "a socket";
  default:
    return {};
  }
}

bool looks_like_utf16(std::string_view text) {
  if (text.starts_with("\xff\xfe") || text.starts_with("\xfe\xff"))
    return true;
  if (text.size() < 4)
    return false;
  const auto zero = [&](std::size_t i) { return text[i] == '\0'; };
  return zero(0) == zero(2) && zero(1) == zero(3) && zero(0) != zero(1);
}

std::string read_text_file(const fs::path& file, std::size_t max_bytes,
                           const TextFileAdvice& advice) {
  const std::string name = plain_line(file.string());
  // O_NONBLOCK: opening a pipe that no one writes to must not hang.
  const Handle handle{::open(file.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY)};
  if (handle.fd < 0) {
    const int error = errno;
    if (error == ENOENT || error == ENOTDIR)
      throw InputError(fmt::format("{}: there is no such file; {}", name, advice.missing));
    if (error == ENXIO || error == ENODEV)
      throw InputError(
          fmt::format("{}: is a device or socket and no file; {}", name, advice.other));
    throw_open_error(name + ": cannot be opened", error, "check its name and permissions");
  }
  struct stat facts {};
  if (::fstat(handle.fd, &facts) != 0)
    throw_open_error(name + ": cannot be read", errno, "check the disk");
  const std::string_view kind = odd_kind(type_of(facts.st_mode));
  if (!kind.empty())
    throw InputError(S_ISDIR(facts.st_mode)
                         ? fmt::format("{}: is a folder; {}", name, advice.folder)
                         : fmt::format("{}: is {} and no file; {}", name, kind, advice.other));
  std::string text;
  char part[1 << 16];
  while (text.size() < max_bytes) {
    const ssize_t n = ::read(handle.fd, part, std::min(sizeof part, max_bytes - text.size()));
    if (n < 0 && errno == EINTR)
      continue;
    if (n < 0)
      throw RunError(fmt::format("{}: reading failed ({}); check the disk", name, words_of(errno)));
    if (n == 0)
      break;
    text.append(part, static_cast<std::size_t>(n));
  }
  return text;
}

} // namespace leastwall
