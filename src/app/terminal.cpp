#include "app/terminal.h"

#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fmt/format.h>
#include <string>
#include <unistd.h>

namespace leastwall {
namespace {

std::atomic<bool> stop_asked{false};
std::atomic<bool> line_shown{false};
static_assert(std::atomic<bool>::is_always_lock_free, "set from a signal handler");

extern "C" void on_stop_signal(int) {
  stop_asked.store(true, std::memory_order_relaxed);
}

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
  run.cancelled = [] { return stop_asked.load(std::memory_order_relaxed); };
  if (show && ::isatty(STDERR_FILENO) != 0) {
    const auto begin = std::chrono::steady_clock::now();
    run.on_progress = [begin](std::string_view stage, double fraction) {
      if (std::chrono::steady_clock::now() - begin < std::chrono::seconds(1))
        return;
      fmt::print(stderr, "\r\033[K{} ... {:.0f} %", stage, 100 * fraction);
      std::fflush(stderr);
      line_shown = true;
    };
  }
  return run;
}

void clear_progress() {
  if (line_shown.exchange(false)) {
    fmt::print(stderr, "\r\033[K");
    std::fflush(stderr);
  }
}

void print_out(std::string_view text) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0)
    throw RunError("standard output could not be written; free the disk or print elsewhere");
}

void catch_stop_signals() {
  struct sigaction action = {};
  action.sa_handler = on_stop_signal;
  sigemptyset(&action.sa_mask);
  ::sigaction(SIGINT, &action, nullptr);
  ::sigaction(SIGTERM, &action, nullptr);
}

} // namespace leastwall
