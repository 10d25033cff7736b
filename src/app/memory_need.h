// Whether a check fits into memory, asked before trees and grids are built.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>

namespace leastwall {

/// What memory a check needs: peak resident memory of the demo gourd at 20,000, 100,000 and
/// 1,000,000 triangles a mesh (55, 81 and 428 MB; 96, 117 and 428 MB with --out), rounded up. It
/// follows the triangles of both meshes together.
inline constexpr std::uint64_t kProgram_bytes = 64'000'000;
inline constexpr std::uint64_t kTriangle_bytes = 230;
inline constexpr std::uint64_t kPage_bytes = 50'000'000; ///< more, with a folder of reports

/// Bytes that a check of so many triangles, both meshes together, needs at most at one time.
std::uint64_t memory_need_bytes(std::size_t triangles, bool with_folder);

/// Throws RunError, one line that says how many triangles would fit, when the check needs more than
/// `limit_bytes` (unset: more than the system leaves; not asked where the system does not tell).
void require_memory(std::size_t triangles, bool with_folder,
                    std::optional<std::uint64_t> limit_bytes);

} // namespace leastwall
