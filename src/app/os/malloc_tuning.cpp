#include "app/os/malloc_tuning.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <malloc.h>
#include <sys/mman.h>

namespace leastwall {

void set_memory_habits() {
#if defined(__GLIBC__) && !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
  mallopt(M_MMAP_MAX, 0);
  mallopt(M_TRIM_THRESHOLD, -1); // never: the largest int would let go of the piece below
  mallopt(M_TOP_PAD, 64 << 20);
  mallopt(M_ARENA_MAX, 1);
  // One piece of address space, not yet memory, marked for large pages and handed back to malloc.
  constexpr std::uintptr_t kLargePage = std::uintptr_t{2} << 20;
  for (std::size_t bytes = std::size_t{4} << 30; bytes >= std::size_t{64} << 20; bytes /= 2) {
    void* piece = std::malloc(bytes);
    if (piece == nullptr)
      continue;
    const auto at = reinterpret_cast<std::uintptr_t>(piece);
    const std::uintptr_t from = (at + kLargePage - 1) / kLargePage * kLargePage;
    const std::uintptr_t to = (at + bytes) / kLargePage * kLargePage;
    madvise(reinterpret_cast<void*>(from), to - from, MADV_HUGEPAGE); // advice: may be refused
    std::free(piece);
    return;
  }
#endif
}

} // namespace leastwall
