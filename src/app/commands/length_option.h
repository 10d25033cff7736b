// An option that takes a length: millimetres, or a number with a unit.
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>

namespace leastwall {

CLI::Option* add_length(CLI::App* command, const std::string& name, std::optional<double>& to_mm,
                        const std::string& help, bool may_be_negative = false);

} // namespace leastwall
