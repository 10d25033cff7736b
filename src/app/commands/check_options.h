// The command line of `leastwall check`.
#pragma once

#include "base/units.h"
#include "report/sheet/sheet_paper.h"

#include <CLI/CLI.hpp>
#include <cstdint>
#include <optional>
#include <string>

namespace leastwall {

struct CheckOptions {
  std::string job;
  std::string pocket, skin;
  std::optional<double> limit_mm, z_zero_mm, bed_flatness_mm, top_z_mm, pad_reading_mm;
  std::optional<LengthUnit> units;
  std::string against; ///< JSON of an earlier check
  std::string heat_map, json, out_folder, sheet, card, fields;
  PaperSize paper = PaperSize::a4;                 ///< of setup sheet and card
  std::optional<std::uint64_t> memory_limit_bytes; ///< unset: what the system leaves
  int threads = 0;                                 ///< 0: all usable processors
  bool inches = false;
  bool all = false; ///< the text in full
  bool quiet = false;
};

/// Adds the command to `app`; `options` is filled when the command line is read.
CLI::App* add_check_command(CLI::App& app, CheckOptions& options);

} // namespace leastwall
