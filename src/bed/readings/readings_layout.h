// Second half of reading a readings file: which cells are places and which are readings.
#pragma once

#include "base/notice.h"
#include "bed/readings/read_readings.h"
#include "bed/readings/readings_sentences.h"
#include "bed/readings/readings_text.h"

#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// One reading in the units of the file; absent where it is missing.
struct RawReading {
  std::size_t line = 0;
  double x = 0, y = 0;
  std::optional<double> z;
};

struct RawReadings {
  std::vector<RawReading> readings;
  ReadingsOptions options; ///< with all that the file states about itself
  std::string layout;      ///< in words
  std::size_t first_line = 0;
  bool places_in_mm = false; ///< a bare grid's places come from a pitch in mm
  bool guessed = false;      ///< nothing but three columns says that these are x, y, reading
  std::vector<Notice> notices;
};

/// How to state the pitch, for messages.
inline constexpr const char* kSayPitch =
    "say the pitch, for instance with a line \"# leastwall: pitch = 50\" (mm)";

/// Finds heading, layout and readings. Throws InputError naming file and line.
RawReadings lay_out_readings(ReadingsText text, const std::string& name,
                             const ReadingsOptions& options);

/// Throws InputError "NAME:LINE: WHAT", or "NAME: WHAT" for line 0.
[[noreturn]] void refuse_readings(const std::string& name, std::size_t line,
                                  const std::string& what);

} // namespace leastwall
