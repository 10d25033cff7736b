// `leastwall start`: writes a commented job with its meshes.
#pragma once

#include "app/os/exit_status.h"

#include <CLI/CLI.hpp>
#include <string>

namespace leastwall {

struct StartOptions {
  std::string folder;
  std::string piece;        ///< "gourd" when empty
  bool all = false;         ///< every key of a job
  bool ask = false;         ///< a job for one's own meshes, by questions
  std::string pocket, skin; ///< of that job; asked for when empty
};

CLI::App* add_start_command(CLI::App& app, StartOptions& options);

/// Makes the folder if needed and writes into it; throws InputError rather than overwrite anything.
ExitStatus run_start(const StartOptions& options);

} // namespace leastwall
