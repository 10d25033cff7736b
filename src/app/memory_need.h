// Whether a check fits into memory, asked before trees and grids are built.
#pragma once

#include <cstdint>
#include <optional>

namespace leastwall {

struct CheckSize {
  std::uint64_t triangles = 0;   ///< of both meshes together
  std::uint64_t cells = 0;       ///< that the skin is cut into (fine_cells)
  std::uint64_t trial_bytes = 0; ///< of the draws of all trials (trial_memory_bytes)
  bool with_picture = false;     ///< a heat map or a setup sheet is drawn
  bool with_folder = false;      ///< a folder of reports is written
};

/// Bytes that a check needs at most at one time: the larger of what measuring takes and what
/// writing takes.
std::uint64_t memory_need_bytes(const CheckSize& size);

/// Throws RunError, one line that says what would fit, when the check needs more than `limit_bytes`
/// (unset: more than the system leaves; not asked where the system does not tell).
void require_memory(const CheckSize& size, std::optional<std::uint64_t> limit_bytes);

} // namespace leastwall
