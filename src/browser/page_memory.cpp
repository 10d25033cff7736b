#include "browser/page_memory.h"

#include <emscripten/heap.h>
#include <malloc.h>

namespace leastwall {

std::optional<std::uint64_t> page_memory_bytes() {
  const std::uint64_t most = emscripten_get_heap_max();
  const std::uint64_t used = mallinfo().uordblks;
  return most - (used < most ? used : most);
}

} // namespace leastwall
