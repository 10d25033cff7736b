// An option that names a file or folder to write.
#pragma once

#include "app/output/outputs.h"

#include <CLI/CLI.hpp>
#include <string>

namespace leastwall {

enum class OutputKind { png, pdf, json, stl, vdb, html, folder };

/// Adds the option (a positional where `name` has no dashes). Refused: an empty name; "-", which is
/// stdout for JSON only; an ending that promises another format than the one that is written.
CLI::Option* add_output(CLI::App* command, const std::string& name, std::string& to,
                        OutputKind kind, const std::string& help);

/// Tells `outputs` what standard output takes: the JSON where --json is "-", else the text, or
/// nothing when quiet. True for the JSON.
bool prints_json(Outputs& outputs, const std::string& json, bool quiet);

} // namespace leastwall
