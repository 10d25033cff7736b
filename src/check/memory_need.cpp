#include "check/memory_need.h"

#include "base/errors.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

// Set a little over peak resident memory as measured on two cores (getrusage): gourd at 0.1, 1, 3
// and 10 million triangles a mesh, leaf, elevation model, waved sheets of 8 to a million facets,
// thick and thin everywhere, each with and without pictures and folder. What is not thick enough
// for a field takes up to 30 MB less than this: its library is then not loaded.
constexpr std::uint64_t kProgram_bytes = 36'000'000;
constexpr std::uint64_t kPicture_bytes = 90'000'000; // with the program, as the next
constexpr std::uint64_t kFolder_bytes = 112'000'000;
constexpr std::uint64_t kFields_bytes = 250'000'000; // three grids and their file
constexpr std::uint64_t kField_bytes = 28'000'000;
constexpr std::uint64_t kFieldTriangles = 40'000; // fewer are never worth a field
constexpr std::uint64_t kTriangle_bytes = 100;
constexpr std::uint64_t kCell_bytes = 128;
constexpr std::uint64_t kKeptTriangle_bytes = 55; // of the meshes, while results are written
constexpr std::uint64_t kDrawnCell_bytes = 120;
constexpr std::uint64_t kWrittenCell_bytes = 197;

} // namespace

std::uint64_t memory_need_bytes(const CheckSize& size) {
  const std::uint64_t measuring = kProgram_bytes + kTriangle_bytes * size.triangles +
                                  kCell_bytes * size.cells + size.trial_bytes;
  std::uint64_t writing = 0;
  if (size.with_picture)
    writing = kPicture_bytes + kDrawnCell_bytes * size.cells;
  if (size.with_folder)
    writing = kFolder_bytes + kWrittenCell_bytes * size.cells;
  if (size.with_fields)
    writing += kFields_bytes + kTriangle_bytes * size.triangles;
  const std::uint64_t field = size.triangles < kFieldTriangles ? 0 : kField_bytes;
  return field + std::max(measuring, writing + kKeptTriangle_bytes * size.triangles);
}

void require_memory(const CheckSize& size, const MemoryLimit& allowed) {
  const auto limit = allowed.bytes();
  const std::uint64_t need = memory_need_bytes(size);
  if (!limit || need <= *limit)
    return;
  const auto mb = [](std::uint64_t bytes) { return (bytes + 999'999) / 1'000'000; };
  CheckSize none;
  none.trial_bytes = size.trial_bytes;
  none.with_folder = size.with_folder;
  none.with_picture = size.with_picture;
  none.with_fields = size.with_fields;
  const std::uint64_t fixed = memory_need_bytes(none);
  std::string fits;
  CheckSize no_trials = size;
  no_trials.trial_bytes = 0;
  if (memory_need_bytes(no_trials) <= *limit) {
    fits = fmt::format("the trials alone take {} MB; state fewer trials in the job",
                       mb(size.trial_bytes));
  } else if (*limit <= fixed) {
    fits = fmt::format("no mesh would fit: even a small piece needs {} MB; close other programs",
                       mb(fixed));
  } else {
    const double share = static_cast<double>(*limit - fixed) / static_cast<double>(need - fixed);
    fits = size.cells > 2 * size.triangles
               ? fmt::format("{:.0f} % of the piece would fit; cut the meshes down to the region "
                             "in question",
                             100 * share)
               : fmt::format("meshes of {:.0f} triangles together would fit; use coarser meshes or "
                             "cut them down to the region in question",
                             share * static_cast<double>(size.triangles));
  }
  throw RunError(fmt::format(
      "{} triangles{} need about {} MB of memory and {} MB {}: {}{}", size.triangles,
      size.cells > size.triangles ? fmt::format(", cut into {} cells,", size.cells) : "", mb(need),
      *limit / 1'000'000, allowed.asked_bytes ? "are allowed (--memory-limit)" : "are free", fits,
      allowed.asked_bytes ? ", or allow more" : ""));
}

} // namespace leastwall
