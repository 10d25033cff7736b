// How much memory the module may still take.
#pragma once

#include <cstdint>
#include <optional>

namespace leastwall {

/// What is left of the most that a module can have; a phone may give less, and then taking it
/// fails.
std::optional<std::uint64_t> page_memory_bytes();

} // namespace leastwall
