// Days of the week from calendars; leap days by the Gregorian rule.
#include "pour/clock_time.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("days, weeks, leap years, the end of a year") {
  const auto at = [](const char* text, double hours) {
    return clock_time_text(later(*clock_time_from_text(text), hours));
  };
  CHECK(at("2026-03-14 18:00", 0) == "Sat 2026-03-14 18:00");
  CHECK(at("2026-03-14T18:00", 24) == "Sun 2026-03-15 18:00");
  CHECK(at("2024-02-28 23:30", 1) == "Thu 2024-02-29 00:30");
  CHECK(at("2023-02-28 23:30", 1) == "Wed 2023-03-01 00:30");
  CHECK(at("2000-02-29 12:00", 0) == "Tue 2000-02-29 12:00");
  CHECK(at("2026-12-31 20:00", 72.5) == "Sun 2027-01-03 20:30");
  CHECK(at("1970-01-01 00:00", 0) == "Thu 1970-01-01 00:00");
}

TEST_CASE("what is no day and time") {
  for (const char* text :
       {"", "2026-03-14", "2026-03-14 24:00", "2026-03-14 18:60", "2026-02-29 10:00",
        "2100-02-29 10:00", "2026-13-01 10:00", "2026-00-10 10:00", "2026-04-31 10:00",
        "14-03-2026 18:00", "2026/03/14 18:00", "2026-03-14 18:00 ", "2026-03-14x18:00",
        "1969-12-31 10:00", "2026-3-14 18:00", "2026-03-14 6 pm", "+026-03-14 18:00"}) {
    CAPTURE(text);
    CHECK_FALSE(clock_time_from_text(text));
  }
}
