// `leastwall hollow`: makes the pocket of a job from its skin.
#pragma once

#include "app/os/exit_status.h"

#include <CLI/CLI.hpp>
#include <cstdint>
#include <optional>
#include <string>

namespace leastwall {

struct HollowCommand {
  std::string job, to;
  std::optional<double> wall_mm, depth_mm;
  std::optional<std::uint64_t> memory_limit_bytes; ///< unset: what the system leaves
  int threads = 0;                                 ///< 0: all usable processors
  bool inches = false;
  bool quiet = false;
};

/// Adds the command to `app`; `options` is filled when the command line is read.
CLI::App* add_hollow_command(CLI::App& app, HollowCommand& options);

/// kHolds: a pocket was written, and the check of it is safe. kDoesNot: no pocket is; nothing was
/// written. Throws the errors of base/errors.h.
ExitStatus run_hollow(const HollowCommand& options);

} // namespace leastwall
