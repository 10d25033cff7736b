// Man page and bash completion, made from the option definitions themselves.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace leastwall {

/// roff source of leastwall(1).
std::string man_page(const CLI::App& app);
/// Completion script for bash.
std::string bash_completion(const CLI::App& app);

/// Adds the command `docs man|bash`, which prints one of them and leaves with status 0.
void add_docs_command(CLI::App& app);

} // namespace leastwall
