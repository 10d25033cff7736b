#include "app/os/open_files.h"

#include "base/errors.h"

#include <array>
#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

namespace leastwall {

void require_open_files() {
  // Sixteen outputs, two meshes, pipes of an import, a module, fonts and their lists.
  std::array<int, 40> handles{};
  std::size_t got = 0;
  while (got < handles.size() && (handles[got] = ::fcntl(STDERR_FILENO, F_DUPFD_CLOEXEC, 0)) >= 0)
    ++got;
  for (std::size_t i = 0; i < got; ++i)
    ::close(handles[i]);
  if (got < handles.size())
    throw RunError(fmt::format("only {} more files can be opened at one time and a run may take "
                               "{}; raise the limit on open files (ulimit -n 256)",
                               got, handles.size()));
}

} // namespace leastwall
