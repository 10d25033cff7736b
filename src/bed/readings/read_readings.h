// Reads bed heights, straightedge gaps or board thicknesses from a text file as people write it.
//
// Rows of x, y, reading; or a bare grid of readings; or a grid with x along its first row and y in
// its first column. Cells between commas, semicolons, tabs or blanks; decimal point or comma;
// header lines (x, y, z in any order, units in the words), blank lines, comments (#, //, %),
// missing cells (empty, -, x, n/a, nan, ?). What the file cannot say, the options do, or lines in
// it like
//   # leastwall: height-unit = 0.01 mm; pitch = 50; origin = 0 0; first-row = far
// (keys: measures, layout, height-unit, place-unit, high, first-row, pitch, origin).
#pragma once

#include "base/notice.h"
#include "base/units.h"
#include "bed/bed_map.h"

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

enum class HeightUnit { mm, hundredth_mm, micrometre, inch, thousandth_inch };

enum class ReadingsKind {
  heights,  ///< as the spindle sees the bed
  gaps,     ///< feeler gaps under a straightedge: curvature is known, tilt and height are not
  thickness ///< of the board
};

enum class ReadingsLayout { points, grid };

/// Each field states what is known beforehand; empty: the file tells or the default is taken (and
/// said in `understood`). A statement that contradicts the file is refused.
struct ReadingsOptions {
  std::optional<ReadingsKind> kind;      ///< default heights
  std::optional<ReadingsLayout> layout;  ///< default: three columns are points, more a grid
  std::optional<HeightUnit> height_unit; ///< default mm
  std::optional<LengthUnit> place_unit;  ///< default inch with inch heights, else mm
  std::optional<bool> high_is_plus;      ///< default yes: a higher place gives the larger number
  std::optional<bool> first_row_far;     ///< bare grid: first row has the largest y; default yes
  std::optional<double> pitch_x_mm, pitch_y_mm;   ///< bare grid: needed; one stands for both
  std::optional<double> origin_x_mm, origin_y_mm; ///< bare grid: lowest x and y; default 0
};

struct ReadingsFile {
  BedMap map; ///< mm; heights up positive (gaps turned into heights, so at most 0), or thicknesses
  ReadingsKind kind = ReadingsKind::heights;
  bool tilt_known = true;
  std::size_t readings = 0; ///< numbers used
  std::size_t missing = 0;  ///< places without one
  std::size_t repeated = 0; ///< readings at a place that was read before; the mean counts
  double largest_repeat_difference_mm = 0;
  std::vector<std::string> understood{}; ///< how the file was read, one fact a sentence
  std::vector<Notice> notices{};
};

/// Throws InputError "FILE:LINE: ..." for what cannot be understood, "FILE: ..." for the whole.
ReadingsFile read_readings(const std::filesystem::path& file, const ReadingsOptions& options = {});

/// The same from text in memory; `name` stands for the file in messages.
ReadingsFile parse_readings(std::string_view text, const std::string& name,
                            const ReadingsOptions& options = {});

} // namespace leastwall
