#include "app/commands/bed_options.h"

#include "app/commands/length_option.h"
#include "app/commands/output_option.h"
#include "app/commands/run_options.h"
#include "base/sane_size.h"

#include <cmath>
#include <cstdlib>
#include <fmt/format.h>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

/// An option with a few words, each of which stands for a value.
template <class T>
void add_choice(CLI::App* command, const std::string& name, std::optional<T>& to,
                const std::vector<std::pair<std::string, T>>& words, const std::string& help) {
  std::vector<std::string> names;
  for (const auto& [word, value] : words)
    names.push_back(word);
  command
      ->add_option_function<std::string>(
          name,
          [&to, words](const std::string& stated) {
            for (const auto& [word, value] : words)
              if (word == stated)
                to = value;
          },
          help)
      ->type_name("WORD")
      ->transform(CLI::IsMember(names, CLI::ignore_case));
}

void add_reading_options(CLI::App* bed, BedOptions& o) {
  bed->add_option("readings", o.readings,
                  "file of readings: x, y, height rows or a bare grid (a job's own when left out)")
      ->type_name("READINGS");
  ReadingsOptions& r = o.reading;
  add_choice<ReadingsKind>(bed, "--measures", r.kind,
                           {{"heights", ReadingsKind::heights},
                            {"gaps", ReadingsKind::gaps},
                            {"thickness", ReadingsKind::thickness}},
                           "heights by a dial in the spindle, feeler gaps under a straightedge, or "
                           "thickness of a board");
  add_choice<HeightUnit>(bed, "--heights", r.height_unit,
                         {{"mm", HeightUnit::mm},
                          {"0.01mm", HeightUnit::hundredth_mm},
                          {"um", HeightUnit::micrometre},
                          {"inch", HeightUnit::inch},
                          {"thou", HeightUnit::thousandth_inch}},
                         "unit of the heights");
  add_choice<LengthUnit>(bed, "--places", r.place_unit,
                         {{"mm", LengthUnit::mm}, {"inch", LengthUnit::inch}}, "unit of x and y");
  add_choice<bool>(bed, "--high", r.high_is_plus, {{"plus", true}, {"minus", false}},
                   "sign of the dial where the bed is high");
  add_choice<ReadingsLayout>(bed, "--layout", r.layout,
                             {{"points", ReadingsLayout::points}, {"grid", ReadingsLayout::grid}},
                             "x, y, height in each row, or a grid of heights");
  add_choice<bool>(bed, "--first-row", r.first_row_far, {{"far", true}, {"near", false}},
                   "bare grid: whether its first row has the largest y");
  add_length(bed, "--pitch", r.pitch_x_mm, "bare grid: from reading to reading");
  add_length(bed, "--pitch-y", r.pitch_y_mm, "the same along y, where it differs");
  add_length(bed, "--origin-x", r.origin_x_mm, "bare grid: its lowest x", true);
  add_length(bed, "--origin-y", r.origin_y_mm, "bare grid: its lowest y", true);
}

void add_computing_options(CLI::App* bed, BedOptions& o) {
  add_length(bed, "--span", o.sag.span_mm,
             "sag when no one measured: way between two supports of the bed");
  add_length(bed, "--width", o.sag.width_mm, "width of the bed across the span");
  add_length(bed, "--thickness", o.sag.thickness_mm, "thickness of the bed");
  bed->add_option("--panel", o.sag.panel, "what the bed is made of, e.g. \"MDF\"")
      ->type_name("NAME");
  bed->add_option("--board-weight", o.sag.board_kg, "weight of the board on it, kg")
      ->type_name("KG")
      ->check([](const std::string& text) { // a range would let pass what is no number
        const double kg = std::strtod(text.c_str(), nullptr);
        return kg >= 0 && kg <= 10'000 ? std::string()
                                       : fmt::format("{} is no weight from 0 to 10000 kg", text);
      });
  add_length(bed, "--board-length", o.sag.board_along_mm, "the board's size along the span");
  add_length(bed, "--board-width", o.sag.board_across_mm,
             "its size across the span (default: as wide as the bed, on four edges no wider than "
             "long)");
  bed->add_flag("--four-edges", o.sag.four_edges, "the bed is held up along all four edges");
  bed->add_flag("--centre-support", o.sag.centre_support, "a support stands under the middle");
  add_length(bed, "--tram-reading", o.tram.reading_mm,
             "tram: highest minus lowest reading of a dial swung round by the spindle");
  add_length(bed, "--tram-swing", o.tram.swing_mm, "diameter of that circle");
  add_length(bed, "--cutter", o.tram.cutter_mm, "diameter of the surfacing cutter");
  add_length(bed, "--stepover", o.stepover_mm,
             "from one surfacing pass to the next; ridges that far apart are told as tram");
}

} // namespace

CLI::App* add_bed_command(CLI::App& app, BedOptions& o) {
  CLI::App* bed =
      app.add_subcommand("bed", "Judge readings of the bed, and whether to resurface it.");
  add_reading_options(bed, o);
  bed->add_option("--job", o.job, "judge resurfacing for the piece of this job, on these readings")
      ->type_name("JOB.toml");
  bed->add_option_function<std::vector<double>>(
         "--part-origin",
         [&o](const std::vector<double>& xy) {
           o.part_origin_mm = Point2{xy[0], xy[1]};
         },
         "where model 0, 0 lies in the frame of the readings, mm (default: as the job says)")
      ->type_name("X Y")
      ->check([](const std::string& text) {
        const double mm = std::strtod(text.c_str(), nullptr);
        return std::abs(mm) <= kLargestLength_mm
                   ? std::string()
                   : fmt::format("{} mm is more than 100 m away", text);
      })
      ->expected(2);
  add_length(bed, "--reading-error", o.reading_error_mm, "error of one reading, plus or minus");
  add_computing_options(bed, o);
  add_output(bed, "--map", o.map, OutputKind::png, "write a contour map of the bed (PNG) here");
  bed->add_option("--map-width", o.map_width_px, "width of that picture")
      ->type_name("PIXELS")
      ->check(CLI::Range(400, 8000));
  add_output(bed, "--json", o.json, OutputKind::json, "write the result as JSON here; - is stdout");
  add_threads(bed, o.threads);
  add_inches(bed, o.inches);
  add_quiet(bed, o.quiet);
  return bed;
}

} // namespace leastwall
