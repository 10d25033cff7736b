#include "app/os/standard_streams.h"

#include "app/os/crash_handler.h"
#include "base/errors.h"

#include <algorithm>
#include <cerrno>
#include <climits>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <unistd.h>

namespace leastwall {
namespace {

/// A pipe that is ready takes this much without waiting for its reader (POSIX, poll and PIPE_BUF).
constexpr std::size_t kNoWait = PIPE_BUF;

/// Waits until `fd` takes something, or an error can be told; false when the time is over.
bool ready(int fd, int milliseconds) {
  pollfd wanted{fd, POLLOUT, 0};
  return ::poll(&wanted, 1, milliseconds) > 0;
}

} // namespace

void hold_standard_streams() noexcept {
  for (const int fd : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
    if (::fcntl(fd, F_GETFD) == -1 && errno == EBADF) {
      // The lowest free number is this one. Open the wrong way round, it refuses.
      [[maybe_unused]] const int held =
          ::open("/dev/null", fd == STDIN_FILENO ? O_WRONLY : O_RDONLY);
    }
}

void print_out(std::string_view text) {
  constexpr int kLook_ms = 50;
  while (!text.empty()) {
    if (!ready(STDOUT_FILENO, kLook_ms)) {
      if (stop_asked())
        throw Cancelled();
      continue;
    }
    const ssize_t n = ::write(STDOUT_FILENO, text.data(), std::min(text.size(), kNoWait));
    if (n > 0) {
      text.remove_prefix(static_cast<std::size_t>(n));
      continue;
    }
    if (n < 0 && (errno == EINTR || errno == EAGAIN))
      continue;
    if (n < 0 && errno == EPIPE)
      return; // the reader has seen enough
    throw RunError(
        fmt::format("standard output could not be written ({}); free the disk or print elsewhere",
                    std::strerror(n < 0 ? errno : ENOSPC)));
  }
}

void print_err(std::string_view text) noexcept {
  constexpr int kPatience_ms = 1000;
  while (!text.empty() && ready(STDERR_FILENO, kPatience_ms)) {
    const ssize_t n = ::write(STDERR_FILENO, text.data(), std::min(text.size(), kNoWait));
    if (n <= 0 && errno != EINTR && errno != EAGAIN)
      return;
    if (n > 0)
      text.remove_prefix(static_cast<std::size_t>(n));
  }
}

} // namespace leastwall
