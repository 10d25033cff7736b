// A mended pocket: the wall before and after, where it changed, and a section through the place
// that was worst.
#pragma once

#include "mesh/mesh.h"
#include "report/mend_report.h"
#include "wall/measure_wall.h"

#include <span>
#include <string>

namespace leastwall {

/// All as it lies on the board.
struct MendPictureInput {
  const TriMesh& skin; ///< what the pocket lies in
  const TriMesh& old_pocket;
  const TriMesh& new_pocket;
  std::span<const double> moved_mm; ///< by corner of the new pocket: how far it went
  struct Wall {
    const WallMeasurement& wall;
    std::span<const double> expected_mm, worst_mm; ///< of each sample of the skin
  };
  Wall before, after;
  const MendReport& report;
  std::string title;
};

/// The bytes of a PNG file, the same for the same input. Throws RunError where nothing was
/// measured.
std::string draw_mend_picture(const MendPictureInput& input, bool inch);

} // namespace leastwall
