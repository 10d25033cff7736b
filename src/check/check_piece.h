// The whole check of one pocket and its skin, from meshes and a set-up to the report.
#pragma once

#include "base/assumption.h"
#include "base/run_context.h"
#include "budget/budget.h"
#include "budget/effects/reach.h"
#include "check/mouth_slopes.h"
#include "mesh/load/load_mesh.h"
#include "report/check_report.h"
#include "wall/fit/fit_findings.h"
#include "wall/measure_wall.h"

#include <cstdint>
#include <string>
#include <vector>

namespace leastwall {

struct CheckInput {
  std::string title;
  std::string pocket_file, skin_file; ///< as the user named them
  LoadedMesh pocket, skin;
  Setup setup;
  bool flip_stated = false; ///< the job states how the board is flipped
  std::optional<double> top_z_mm;
  double rim_depth_mm = 0; ///< where the rim runs out; 0: it must hold
  /// Of samples where the wall may be thin; 0 chooses (MeasureOptions). Any other is for a first
  /// look, which reads samples alone.
  double fine_spacing_mm = 0;
  /// Wood up to the pocket face counts as a wall of this piece. Never where the wall is resin.
  bool with_land = true;
  PairKind pair = PairKind::own; ///< what pocket and skin are to one another
  MouthSlopes mouth;             ///< measure_piece() fills it
  BudgetOptions budget;
  /// The most that all stated errors together can thin a wall; widens what is measured finely.
  Reach reach;
  std::uint64_t trial_bytes = 0; ///< memory that the trials take
  std::vector<Assumption> assumptions;
  std::vector<Notice> warnings;
};

struct CheckResult {
  Setup setup; ///< as computed with: the pocket face is that of the meshes
  bool flip_stated = false;
  CheckReport report;
  WallMeasurement wall;
  Budget budget; ///< per sample of wall.skin
};

CheckResult check_piece(CheckInput input, const RunContext& run);

/// The first half of it: the wall as drawn. Takes the meshes from `input`, keeps the rest. Samples
/// are added at `also_at`, where bed and board were read, model x, y.
WallMeasurement measure_piece(CheckInput& input, std::vector<Point2> also_at,
                              const RunContext& run);

/// The second half: what the errors do to it. `input` without its meshes.
CheckResult judge_piece(CheckInput input, WallMeasurement wall, const RunContext& run);

} // namespace leastwall
