// How much memory this process may still use.
#pragma once

#include "check/memory_need.h"

#include <cstdint>
#include <optional>

namespace leastwall {

/// Bytes that can be used without swapping: what the system calls available, or what the control
/// groups of this process (version 2, and the memory controller of version 1) leave where that is
/// less. Absent where the system does not tell. Files kept in memory count as free: they are given
/// up when something needs the room.
std::optional<std::uint64_t> available_memory_bytes();

/// What is asked for, else what is free.
inline MemoryLimit memory_limit(std::optional<std::uint64_t> asked_bytes) {
  return {asked_bytes, available_memory_bytes};
}

} // namespace leastwall
