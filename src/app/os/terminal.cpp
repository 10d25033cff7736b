#include "app/os/terminal.h"

#include "app/os/crash_handler.h"
#include "app/os/standard_streams.h"

#include <atomic>
#include <chrono>
#include <cstdlib>
#include <fmt/format.h>
#include <string>
#include <unistd.h>

namespace leastwall {
namespace {

std::atomic<bool> line_shown{false};

bool set(const char* name) {
  const char* value = std::getenv(name);
  return value != nullptr && *value != '\0';
}

} // namespace

bool colour_on_stdout() {
  const char* term = std::getenv("TERM");
  return ::isatty(STDOUT_FILENO) != 0 && !set("NO_COLOR") &&
         !(term != nullptr && std::string_view(term) == "dumb");
}

RunContext terminal_context(bool show) {
  RunContext run;
  run.cancelled = [] { return stop_asked(); };
  if (show && ::isatty(STDERR_FILENO) != 0) {
    const auto begin = std::chrono::steady_clock::now();
    run.on_progress = [begin](std::string_view stage, double fraction) {
      if (std::chrono::steady_clock::now() - begin < std::chrono::seconds(1))
        return;
      print_err(fmt::format("\r\033[K{} ... {:.0f} %", stage, 100 * fraction));
      line_shown = true;
    };
  }
  return run;
}

void clear_progress() {
  if (line_shown.exchange(false))
    print_err("\r\033[K");
}

} // namespace leastwall
