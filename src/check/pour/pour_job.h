// From a job and its meshes to what is poured: how much, in how many lifts, by when.
#pragma once

#include "base/run_context.h"
#include "check/piece_input.h"
#include "mesh/load/load_mesh.h"
#include "report/pour/pour.h"

#include <optional>
#include <span>
#include <string>

namespace leastwall {

/// What is given with the call; each goes before what the job states.
struct PourAsked {
  std::optional<ClockTime> start;
  std::optional<Tilt> tilt;
  std::optional<double> thin_wall_mm;
  bool drawn = true; ///< pictures are wanted: Pour::drawings is filled
};

/// `meshes`: placed, in the order of MeshNumbers. Throws InputError where the deepest lift gives
/// more than kMaxLifts lifts; Cancelled.
Pour pour_job(const Job& job, const std::string& job_file, std::span<const LoadedMesh> meshes,
              const PourAsked& asked, const RunContext& run);

/// Whether any pocket states its resin.
bool states_resin(const Job& job);

} // namespace leastwall
