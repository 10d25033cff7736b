#include "app/os/read_line.h"

#include "app/os/crash_handler.h"
#include "base/errors.h"

#include <cerrno>
#include <fmt/format.h>
#include <unistd.h>

namespace leastwall {

std::optional<std::string> read_line() {
  std::string line;
  for (char c = 0;;) {
    const ssize_t got = ::read(STDIN_FILENO, &c, 1);
    if (stop_asked())
      throw Cancelled();
    if (got < 0 && errno == EINTR)
      continue;
    if (got < 0)
      throw InputError("the answers cannot be read from standard input");
    if (got == 0)
      return line.empty() ? std::nullopt : std::optional(line);
    if (c == '\n')
      return line;
    if (line.size() == kLongestLine)
      throw InputError(fmt::format("an answer is longer than {} bytes", kLongestLine));
    line += c;
  }
}

} // namespace leastwall
