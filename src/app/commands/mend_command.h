// `leastwall mend`: changes the pocket of a job where its wall is too thin.
#pragma once

#include "app/os/exit_status.h"

#include <CLI/CLI.hpp>
#include <cstdint>
#include <optional>
#include <string>

namespace leastwall {

struct MendCommand {
  std::string job, to, pocket, picture;
  std::optional<std::uint64_t> memory_limit_bytes; ///< unset: what the system leaves
  int threads = 0;                                 ///< 0: all usable processors
  bool inches = false;
  bool quiet = false;
};

/// Adds the command to `app`; `options` is filled when the command line is read.
CLI::App* add_mend_command(CLI::App& app, MendCommand& options);

/// kHolds: the walls of the pocket hold, as it was (nothing is then written) or as it was written,
/// and so does the job. kDoesNot: the pocket was written and other walls of the job do not hold;
/// or no pocket holds, and nothing was written. Throws the errors of base/errors.h.
ExitStatus run_mend(const MendCommand& options);

} // namespace leastwall
