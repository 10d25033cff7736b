// `leastwall page`: writes the page that checks in any browser.
#pragma once

#include "app/os/exit_status.h"

#include <CLI/CLI.hpp>
#include <string>

namespace leastwall {

struct PageOptions {
  std::string file;
};

CLI::App* add_page_command(CLI::App& app, PageOptions& options);

/// Throws InputError rather than overwrite anything, RunError where the page was not installed.
ExitStatus run_page(const PageOptions& options);

} // namespace leastwall
