// Options that every command which computes has.
#pragma once

#include <CLI/CLI.hpp>

namespace leastwall {

void add_threads(CLI::App* command, int& threads);
void add_inches(CLI::App* command, bool& inches);
void add_quiet(CLI::App* command, bool& quiet);

} // namespace leastwall
