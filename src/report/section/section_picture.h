// The thinnest place cut through: pocket, skin, limit and wall, large enough to see half a
// millimetre, with a small plan that shows where the cut runs.
#pragma once

#include "report/check_report.h"
#include "wall/measure_wall.h"

#include <span>
#include <string>

namespace leastwall {

struct SectionPictureInput {
  const WallMeasurement& wall;
  std::span<const double> expected_mm, worst_mm; ///< of each sample of the skin
  std::size_t sample = 0;                        ///< the place: of the wall's map
  const CheckReport& report;
  std::string inner = "pocket", outer = "skin"; ///< what bounds the wall
  bool of_several = false;                      ///< one wall of a job that has several
};

/// The bytes of a PNG file, the same for the same input. Throws RunError where nothing was
/// measured.
std::string draw_section_picture(const SectionPictureInput& input, bool inch);

} // namespace leastwall
