// What is wrong with a call, on one line.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <string_view>

namespace leastwall {

/// The first word must be a command: one line when it is none, otherwise nothing.
std::string unknown_command(const CLI::App& app, std::string_view word);

/// The line for what the command line reader of `app` refused, with the nearest option for one that
/// is not known.
std::string call_fault(const CLI::App& app, const CLI::ParseError& error);

} // namespace leastwall
