// An option that takes an amount of memory: a number with MB, GB, MiB or GiB.
#pragma once

#include <CLI/CLI.hpp>
#include <cstdint>
#include <optional>
#include <string>

namespace leastwall {

CLI::Option* add_memory(CLI::App* command, const std::string& name,
                        std::optional<std::uint64_t>& to_bytes, const std::string& help);

} // namespace leastwall
