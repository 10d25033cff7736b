// `leastwall pour`: how much resin a job takes, in how many lifts, by when.
#pragma once

#include "app/os/exit_status.h"

#include <CLI/CLI.hpp>
#include <cstdint>
#include <optional>
#include <string>

namespace leastwall {

struct PourCommand {
  std::string job, json, picture;
  std::string start, tilt; ///< as written; empty: as the job states
  std::optional<double> tilt_towards_deg, thin_wall_mm;
  std::optional<std::uint64_t> memory_limit_bytes; ///< unset: what the system leaves
  int threads = 0;                                 ///< 0: all usable processors
  bool inches = false;
  bool quiet = false;
};

/// Adds the command to `app`; `options` is filled when the command line is read.
CLI::App* add_pour_command(CLI::App& app, PourCommand& options);

/// kHolds: the volume of every pocket is told. kDoesNot: of some it is not, and the text says why.
/// Throws the errors of base/errors.h.
ExitStatus run_pour(const PourCommand& options);

} // namespace leastwall
