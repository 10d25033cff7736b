// What is asked of measuring the wall.
#pragma once

#include "space/footprint.h"

#include <optional>
#include <vector>

namespace leastwall {

struct MeasureOptions {
  /// Walls under this are measured finely (limit plus every error that may come on top), mm.
  double ceiling_mm = 1.0;
  /// Walls up to this much over the least wall are measured finely too, so that what is told of the
  /// thinnest places does not depend on the limit, mm. Unset: the ceiling alone counts.
  std::optional<double> above_least_mm;
  /// Sample spacing where the wall may be under the ceiling; 0 chooses from the size of the piece.
  double fine_spacing_mm = 0;
  /// Largest cell elsewhere; 0 chooses.
  double coarse_spacing_mm = 0;
  /// Voxel of the guiding distance field; 0 chooses. Changes the time, never the answer.
  double voxel_mm = 0;
  /// Model z of the pocket face; unset: found from the meshes.
  std::optional<double> top_z_mm;
  /// Also measure the land: wood between the pocket face and the skin beside the pocket (land.h).
  bool land = false;
  /// The rim runs out: skin less than this below the pocket face is left out of the maps and of the
  /// least wall, and told (WallMeasurement::rim); 0: none.
  double rim_depth_mm = 0;
  /// The skin is another pocket or hole beside the first: what it cuts away lies above its floor as
  /// well, and the wall is what is left between the two.
  bool beside = false;
  /// Also measure the pocket's own map; without it the pocket is measured only where the pieces cut
  /// through each other. The least wall does not depend on it.
  bool pocket_map = true;
  /// Errors change smoothly over the piece, so that what the corners of a flat cell say is enough;
  /// false where they have peaks or steps (heights read in places, errors from place to place).
  bool smooth_errors = true;
  /// Samples are added at these places, model x, y: peaks of what is read in places.
  std::vector<Point2> also_at = {};
  /// Only samples are read, nothing is looked for between them: for trying out shapes that are then
  /// measured whole, since a thinner place may be missed. Cut-throughs are found as ever.
  bool samples_alone = false;
  /// Known of the meshes as they were loaded (MeshFindings::sound): saves finding it out again.
  bool pocket_sound = false, skin_sound = false;
};

} // namespace leastwall
