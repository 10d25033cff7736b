// How the program asks the system for memory.
#pragma once

namespace leastwall {

/// Lets freed memory be used again instead of going back to the system and coming again page by
/// page, and asks for large pages. Changes the time, never an answer; does nothing where the system
/// offers neither. To be called once, before other threads start.
void set_memory_habits();

} // namespace leastwall
