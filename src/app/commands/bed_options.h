// The command line of `leastwall bed`.
#pragma once

#include "bed/readings/read_readings.h"
#include "setup/setup.h"

#include <CLI/CLI.hpp>
#include <optional>
#include <string>

namespace leastwall {

struct BedOptions {
  std::string readings;
  ReadingsOptions reading;
  std::optional<double> stepover_mm; ///< of the last surfacing

  std::string job;
  std::optional<Point2> part_origin_mm; ///< where model 0, 0 lies in the frame of the readings
  std::optional<double> reading_error_mm;

  /// Sag of a bed that no one measured: all but load and centre are needed together.
  struct Sag {
    std::optional<double> span_mm, width_mm, thickness_mm;
    std::string panel;
    std::optional<double> board_kg;
    std::optional<double> board_along_mm; ///< of the board along the span; default: all of it
    /// Of the board across the span; default: all of it, on four edges no more than along it.
    std::optional<double> board_across_mm;
    bool four_edges = false, centre_support = false;
  } sag;

  struct Tram {
    std::optional<double> reading_mm, swing_mm, cutter_mm;
  } tram;

  std::string map, json;
  int map_width_px = 1600;
  int threads = 0; ///< 0: all usable processors
  bool inches = false;
  bool quiet = false;
};

/// Adds the command to `app`; `options` is filled when the command line is read.
CLI::App* add_bed_command(CLI::App& app, BedOptions& options);

} // namespace leastwall
