#include "base/file/map_guard.h"

#include <atomic>
#include <csignal>
#include <cstdint>
#include <mutex>
#include <sys/mman.h>
#include <unistd.h>

namespace leastwall {
namespace {

struct Range {
  std::atomic<bool> taken{false}, filled{false};
  std::atomic<std::uintptr_t> begin{0}, end{0};
};
static_assert(std::atomic<std::uintptr_t>::is_always_lock_free, "read from a signal handler");

constexpr int kRanges = 32;
Range ranges[kRanges];
std::uintptr_t page_bytes = 4096;
struct sigaction before = {};

extern "C" void on_bus_error(int signal, siginfo_t* info, void* context) {
  const auto at = reinterpret_cast<std::uintptr_t>(info->si_addr);
  for (Range& range : ranges) {
    const std::uintptr_t end = range.end;
    if (at < range.begin || at >= end)
      continue;
    const std::uintptr_t page = at / page_bytes * page_bytes;
    // A plain system call; the zeros are read instead of what is gone.
    if (::mmap(reinterpret_cast<void*>(page), end - page, PROT_READ,
               MAP_PRIVATE | MAP_ANONYMOUS | MAP_FIXED | MAP_NORESERVE, -1, 0) == MAP_FAILED)
      break;
    range.filled = true;
    return;
  }
  if ((before.sa_flags & SA_SIGINFO) != 0 && before.sa_sigaction != nullptr) {
    before.sa_sigaction(signal, info, context);
  } else if (before.sa_handler != SIG_DFL && before.sa_handler != SIG_IGN) {
    before.sa_handler(signal);
  } else {
    ::signal(SIGBUS, SIG_DFL); // it comes again and ends the program
  }
}

void install() {
  page_bytes = static_cast<std::uintptr_t>(::sysconf(_SC_PAGESIZE));
  struct sigaction action = {};
  action.sa_sigaction = on_bus_error;
  action.sa_flags = SA_SIGINFO | SA_ONSTACK;
  sigemptyset(&action.sa_mask);
  ::sigaction(SIGBUS, &action, &before);
}

} // namespace

MapGuard::MapGuard(const void* begin, std::size_t size) {
  static std::once_flag once;
  std::call_once(once, install);
  for (int i = 0; i < kRanges && slot_ < 0; ++i) {
    bool free = false;
    if (ranges[i].taken.compare_exchange_strong(free, true))
      slot_ = i;
  }
  if (slot_ < 0)
    return;
  Range& range = ranges[slot_];
  range.filled = false;
  range.begin = reinterpret_cast<std::uintptr_t>(begin);
  range.end = reinterpret_cast<std::uintptr_t>(begin) + size;
}

MapGuard::~MapGuard() {
  if (slot_ < 0)
    return;
  ranges[slot_].end = 0;
  ranges[slot_].begin = 0;
  ranges[slot_].taken = false;
}

bool MapGuard::filled() const {
  return slot_ >= 0 && ranges[slot_].filled;
}

} // namespace leastwall
