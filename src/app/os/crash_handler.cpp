#include "app/os/crash_handler.h"

#include "app/os/exit_status.h"
#include "app/os/rollback_registry.h"
#include "app/os/standard_streams.h"
#include "app/os/terminal.h"

#include <atomic>
#include <chrono>
#include <csignal>
#include <cstring>
#include <exception>
#include <new>
#include <semaphore.h>
#include <string_view>
#include <system_error>
#include <thread>
#include <unistd.h>

namespace leastwall {
namespace {

std::atomic<bool> stop_flag{false};
std::atomic<bool> outcome_known{false};
static_assert(std::atomic<bool>::is_always_lock_free, "set from a signal handler");
sem_t stop_came;

std::mutex& ending_mutex() {
  // Never destroyed: the watching thread may outlive main().
  static std::mutex* const mutex = new std::mutex;
  return *mutex;
}

extern "C" void on_stop_signal(int) {
  stop_flag.store(true, std::memory_order_relaxed);
  ::sem_post(&stop_came);
}

/// Writes one line and ends: plain system calls only.
[[noreturn]] void end_now(std::string_view line) {
  undo_unfinished();
  print_err(line);
  ::_exit(kUnfinished);
}

/// Waits for the user to ask; then leaves the run half a second to stop by itself.
void watch() {
  while (::sem_wait(&stop_came) != 0) {
  }
  std::this_thread::sleep_for(std::chrono::milliseconds(500));
  const std::lock_guard lock(ending_mutex());
  if (outcome_known)
    return;
  clear_progress();
  end_now("leastwall: cancelled: nothing was written\n");
}

[[noreturn]] void on_terminate() {
  if (const std::exception_ptr fault = std::current_exception()) {
    try {
      std::rethrow_exception(fault);
    } catch (const std::bad_alloc&) {
      end_now("leastwall: not enough memory; use coarser meshes or close other programs\n");
    } catch (...) {
      end_now("leastwall: a fault in the program (an exception where none may pass); please report "
              "it\n");
    }
  }
  end_now("leastwall: a fault in the program; please report it\n");
}

#if !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
extern "C" void on_fatal_signal(int signal) {
  switch (signal) {
  case SIGABRT:
    end_now("leastwall: a library gave up (out of memory, or a fault); please report it\n");
  case SIGBUS:
    end_now("leastwall: the disk failed while a file was read; check the disk\n");
  default:
    end_now("leastwall: a fault in the program (out of memory, or a bad access); please report "
            "it\n");
  }
}

void catch_fatal_signals() {
  // A stack that has run over is no place for a handler.
  static char spare_stack[1 << 16];
  stack_t stack = {};
  stack.ss_sp = spare_stack;
  stack.ss_size = sizeof spare_stack;
  ::sigaltstack(&stack, nullptr);
  struct sigaction action = {};
  action.sa_handler = on_fatal_signal;
  action.sa_flags = SA_ONSTACK | static_cast<int>(SA_RESETHAND);
  sigemptyset(&action.sa_mask);
  for (const int signal : {SIGSEGV, SIGABRT, SIGBUS, SIGFPE, SIGILL})
    ::sigaction(signal, &action, nullptr);
}
#else
void catch_fatal_signals() {}
#endif

} // namespace

void prepare_last_resort() {
  std::set_terminate(on_terminate);
  catch_fatal_signals();
  ::signal(SIGPIPE, SIG_IGN); // a reader that leaves is told by the write
  ::signal(SIGXFSZ, SIG_IGN); // so is a file that may not grow further
  ending_mutex();
  if (::sem_init(&stop_came, 0, 0) != 0)
    return; // the run still stops where it looks
  sigset_t stops, before;
  sigemptyset(&stops);
  for (const int signal : {SIGINT, SIGTERM, SIGHUP})
    sigaddset(&stops, signal);
  // The watching thread takes no signals, so that they interrupt what the main thread waits for.
  ::pthread_sigmask(SIG_BLOCK, &stops, &before);
  try {
    std::thread(watch).detach();
  } catch (const std::system_error&) {
    // No thread to be had: the run still stops where it looks.
  }
  ::pthread_sigmask(SIG_SETMASK, &before, nullptr);
  struct sigaction action = {};
  action.sa_handler = on_stop_signal;
  sigemptyset(&action.sa_mask);
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    struct sigaction now = {};
    // What the caller ignores (a run in the background) stays ignored.
    if (::sigaction(signal, nullptr, &now) == 0 && now.sa_handler != SIG_IGN)
      ::sigaction(signal, &action, nullptr);
  }
}

bool stop_asked() noexcept {
  return stop_flag.load(std::memory_order_relaxed);
}

std::unique_lock<std::mutex> hold_ending() {
  return std::unique_lock(ending_mutex());
}

void outcome_stands() {
  const std::lock_guard lock(ending_mutex());
  outcome_known = true;
}

} // namespace leastwall
