// An option that names a file or folder to write.
#pragma once

#include "app/output/outputs.h"
#include "report/draw/canvas/file_canvas.h"

#include <CLI/CLI.hpp>
#include <string>

namespace leastwall {

/// `map`: PNG, or SVG by its ending; `sheet`: PDF, or HTML by its ending.
enum class OutputKind { png, map, sheet, json, stl, vdb, html, folder };

/// Adds the option (a positional where `name` has no dashes). Refused: an empty name; "-", which is
/// stdout for JSON only; an ending that promises another format than the one that is written.
CLI::Option* add_output(CLI::App* command, const std::string& name, std::string& to,
                        OutputKind kind, const std::string& help);

/// What the ending of a name asks for.
PictureFile picture_file(const std::string& name);
SheetFile sheet_file(const std::string& name);

/// Tells `outputs` what standard output takes: the JSON where --json is "-", else the text, or
/// nothing when quiet. True for the JSON.
bool prints_json(Outputs& outputs, const std::string& json, bool quiet);

} // namespace leastwall
