// A day and a time of the shop's clock. Time zones and summer time are not known to it.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace leastwall {

using ClockTime = std::chrono::sys_time<std::chrono::minutes>;

/// "2026-03-14 18:00" (or with a T between, as ISO 8601 writes it); years 1970 to 9999. Absent when
/// it is anything else, or no such day or time exists.
std::optional<ClockTime> clock_time_from_text(std::string_view text);

/// "Sat 2026-03-14 18:00".
std::string clock_time_text(ClockTime at);

/// `hours` (0 to 1e6) later, to the nearest minute.
ClockTime later(ClockTime at, double hours);

} // namespace leastwall
