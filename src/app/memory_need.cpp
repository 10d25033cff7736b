#include "app/memory_need.h"

#include "app/available_memory.h"
#include "base/errors.h"

#include <fmt/format.h>

namespace leastwall {

std::uint64_t memory_need_bytes(std::size_t triangles, bool with_folder) {
  return kProgram_bytes + (with_folder ? kPage_bytes : 0) + kTriangle_bytes * triangles;
}

void require_memory(std::size_t triangles, bool with_folder,
                    std::optional<std::uint64_t> limit_bytes) {
  const auto limit = limit_bytes ? limit_bytes : available_memory_bytes();
  const std::uint64_t need = memory_need_bytes(triangles, with_folder);
  if (!limit || need <= *limit)
    return;
  const auto mb = [](std::uint64_t bytes) { return (bytes + 999'999) / 1'000'000; };
  const std::uint64_t fixed = memory_need_bytes(0, with_folder);
  const std::string fits =
      *limit > fixed
          ? fmt::format("meshes of {} triangles together would fit; use coarser meshes or cut them "
                        "down to the region in question",
                        (*limit - fixed) / kTriangle_bytes)
          : fmt::format("no mesh would fit: even a small piece needs {} MB; close other programs",
                        mb(fixed));
  throw RunError(fmt::format("{} triangles need about {} MB of memory and {} MB {}: {}{}",
                             triangles, mb(need), *limit / 1'000'000,
                             limit_bytes ? "are allowed (--memory-limit)" : "are free", fits,
                             limit_bytes ? ", or allow more" : ""));
}

} // namespace leastwall
