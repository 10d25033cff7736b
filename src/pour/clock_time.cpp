#include "pour/clock_time.h"

#include <array>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

/// `count` digits at `at`; -1 where there are others.
int digits(std::string_view text, std::size_t at, std::size_t count) {
  int value = 0;
  for (std::size_t i = at; i < at + count; ++i) {
    if (text[i] < '0' || text[i] > '9')
      return -1;
    value = 10 * value + (text[i] - '0');
  }
  return value;
}

} // namespace

std::optional<ClockTime> clock_time_from_text(std::string_view text) {
  using namespace std::chrono;
  constexpr std::string_view kShape = "0000-00-00 00:00";
  if (text.size() != kShape.size())
    return std::nullopt;
  for (const std::size_t i : {4U, 7U, 13U})
    if (text[i] != kShape[i])
      return std::nullopt;
  if (text[10] != ' ' && text[10] != 'T')
    return std::nullopt;
  const int y = digits(text, 0, 4), m = digits(text, 5, 2), d = digits(text, 8, 2),
            h = digits(text, 11, 2), min = digits(text, 14, 2);
  if (y < 1970 || m < 0 || d < 0 || h < 0 || h > 23 || min < 0 || min > 59)
    return std::nullopt;
  const year_month_day day{year(y), month(static_cast<unsigned>(m)),
                           std::chrono::day(static_cast<unsigned>(d))};
  if (!day.ok())
    return std::nullopt;
  return ClockTime(sys_days(day)) + hours(h) + minutes(min);
}

std::string clock_time_text(ClockTime at) {
  using namespace std::chrono;
  static constexpr std::array<std::string_view, 7> kDays{"Sun", "Mon", "Tue", "Wed",
                                                         "Thu", "Fri", "Sat"};
  const sys_days midnight = floor<days>(at);
  const year_month_day day(midnight);
  const auto minute = static_cast<int>((at - midnight).count());
  return fmt::format("{} {:04}-{:02}-{:02} {:02}:{:02}", kDays[weekday(midnight).c_encoding()],
                     static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                     static_cast<unsigned>(day.day()), minute / 60, minute % 60);
}

ClockTime later(ClockTime at, double hours) {
  return at + std::chrono::minutes(std::llround(hours * 60));
}

} // namespace leastwall
