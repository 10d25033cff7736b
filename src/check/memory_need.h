// Whether a check fits into memory, asked before trees and grids are built.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>

namespace leastwall {

struct CheckSize {
  std::uint64_t triangles = 0;   ///< of both meshes together
  std::uint64_t cells = 0;       ///< that the skin is cut into (fine_cells)
  std::uint64_t trial_bytes = 0; ///< of the draws of all trials (trial_memory_bytes)
  bool with_picture = false;     ///< a heat map or a setup sheet is drawn
  bool with_folder = false;      ///< a folder of reports is written
  bool with_fields = false;      ///< fields are written
};

/// Bytes that a check needs at most at one time: the larger of what measuring takes and what
/// writing takes.
std::uint64_t memory_need_bytes(const CheckSize& size);

/// What a check may use.
struct MemoryLimit {
  std::optional<std::uint64_t> asked_bytes; ///< goes before what is free
  /// What the system leaves, asked anew each time; absent where it does not tell.
  std::function<std::optional<std::uint64_t>()> free_bytes;

  std::optional<std::uint64_t> bytes() const {
    return asked_bytes ? asked_bytes : free_bytes ? free_bytes() : std::nullopt;
  }
};

/// Throws RunError, one line that says what would fit, when the check needs more than `limit`; not
/// asked where there is none.
void require_memory(const CheckSize& size, const MemoryLimit& limit);

} // namespace leastwall
