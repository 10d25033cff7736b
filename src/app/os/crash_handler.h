// How the program ends when it cannot end in the ordinary way: stopped by the user in the middle
// of something long, out of memory where no exception can pass, or a fault. One line, status 3,
// nothing left half-written.
#pragma once

#include <mutex>

namespace leastwall {

/// From now on SIGINT, SIGTERM and SIGHUP ask the run to stop, and end it half a second later where
/// it has not stopped by itself; std::terminate and fatal signals end it with one line and status 3
/// (not in sanitizer builds, which report such signals themselves).
void prepare_last_resort();

/// True once the user asked to stop.
bool stop_asked() noexcept;

/// While held, a stop asked for waits: outputs are being put in their places.
std::unique_lock<std::mutex> hold_ending();

/// The outcome stands: nothing ends the program early from now on.
void outcome_stands();

} // namespace leastwall
