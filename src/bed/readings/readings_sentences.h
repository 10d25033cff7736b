// The words of a readings file: units, column headings, and "# leastwall:" lines.
#pragma once

#include "bed/readings/read_readings.h"
#include "bed/readings/readings_text.h"

#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// Millimetres in one `unit`.
double millimetres_per(HeightUnit unit);
/// "mm", "0.01 mm", "um", "inch", "0.001 inch".
std::string height_unit_word(HeightUnit unit);

/// The unit named in words such as "z [0.01 mm]", "thou", "1/100 mm"; absent when there is none.
std::optional<HeightUnit> find_height_unit(std::string_view words);

/// What a heading says about the columns below it.
struct ReadingsHeading {
  std::optional<std::size_t> x, y, z; ///< column numbers from 0
  std::optional<HeightUnit> height_unit;
  std::optional<LengthUnit> place_unit;
  std::optional<ReadingsKind> kind; ///< a heading "gap" or "thickness"
  std::size_t columns = 0;
};

/// Reads one row as a heading; absent when it does not name x and a reading.
std::optional<ReadingsHeading> find_heading(const TextRow& row);

/// `options` completed by the file's own lines. Throws InputError with file and line for an
/// unknown key or value and for one that contradicts `options`.
ReadingsOptions with_directives(ReadingsOptions options, const ReadingsText& text,
                                const std::string& name);

} // namespace leastwall
