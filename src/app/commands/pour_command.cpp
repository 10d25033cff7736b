#include "app/commands/pour_command.h"

#include "app/commands/length_option.h"
#include "app/commands/memory_option.h"
#include "app/commands/output_option.h"
#include "app/commands/run_options.h"
#include "app/os/available_memory.h"
#include "app/os/terminal.h"
#include "app/output/outputs.h"
#include "check/pour/pour_job.h"
#include "job/toml/job_error.h"
#include "pour/resin_words.h"
#include "report/json/pour_json.h"
#include "report/pour/pour_picture.h"
#include "report/text/pour_text.h"

#include <filesystem>
#include <fmt/format.h>
#include <optional>

namespace leastwall {
namespace {

/// What the options say, before anything is read.
PourAsked asked_of(const PourCommand& options) {
  PourAsked asked;
  if (!options.start.empty()) {
    asked.start = clock_time_from_text(options.start);
    if (!asked.start)
      throw InputError(fmt::format("--start: '{}' is no day and time; write year, month, day, hour "
                                   "and minute: \"2026-03-14 18:00\"",
                                   shown(options.start)));
  }
  if (!options.tilt.empty()) {
    const std::optional<double> slope = slope_from_text(options.tilt);
    if (!slope)
      throw InputError(fmt::format("--tilt: '{}' is no slope over 0 and up to 20 degrees; write "
                                   "\"2 mm/m\", \"0.25 in/ft\" or \"0.1 deg\"",
                                   shown(options.tilt)));
    asked.tilt = {*slope, options.tilt_towards_deg};
  } else if (options.tilt_towards_deg) {
    throw InputError("--tilt-towards means nothing without --tilt; give both or neither");
  }
  if (options.thin_wall_mm && !(*options.thin_wall_mm > 0))
    throw InputError("--thin-wall must be over 0: give the wall under which resin may show");
  asked.thin_wall_mm = options.thin_wall_mm;
  asked.drawn = !options.picture.empty();
  return asked;
}

} // namespace

CLI::App* add_pour_command(CLI::App& app, PourCommand& options) {
  CLI::App* pour = app.add_subcommand(
      "pour", "How much resin the pockets of a job take, in how many lifts, by when.");
  pour->add_option("job", options.job, "job file")->type_name("JOB.toml")->required();
  add_output(pour, "--json", options.json, OutputKind::json,
             "write the result as JSON here; - is standard output");
  add_output(pour, "--picture", options.picture, OutputKind::png,
             "write a picture of the lifts in section (PNG) here");
  pour->add_option("--start", options.start, "day and time of the first lift, 2026-03-14 18:00")
      ->type_name("TIME");
  pour->add_option("--tilt", options.tilt,
                   "how far the board lies off level: \"2 mm/m\", \"0.1 deg\"")
      ->type_name("SLOPE");
  pour->add_option("--tilt-towards", options.tilt_towards_deg,
                   "where it is lowest: 0 right, 90 away from you (default: the worst direction)")
      ->type_name("DEG")
      ->check(CLI::Range(-360.0, 360.0));
  add_length(pour, "--thin-wall", options.thin_wall_mm,
             "tell walls to the skin under this, where resin or its heat may show");
  add_threads(pour, options.threads);
  add_memory(pour, "--memory-limit", options.memory_limit_bytes,
             "do not begin when more memory is needed (default: what is free)");
  add_inches(pour, options.inches);
  add_quiet(pour, options.quiet);
  return pour;
}

ExitStatus run_pour(const PourCommand& options) {
  const RunContext run = terminal_context(!options.quiet);
  const PourAsked asked = asked_of(options);
  std::optional<Pour> made;
  bool inches = options.inches;
  Outputs outputs;
  const bool json_to_stdout = prints_json(outputs, options.json, options.quiet);
  if (!options.json.empty() && !json_to_stdout)
    outputs.add("--json", options.json, [&made] { return pour_json(made->report); });
  if (!options.picture.empty())
    outputs.add("--picture", options.picture,
                [&made, &inches] { return draw_pour_picture(*made, inches); });
  outputs.reads(options.job);
  const JobWithPocket job = read_job_to_pour(
      options.job, [&outputs](const std::filesystem::path& file) { outputs.reads(file); },
      memory_limit(options.memory_limit_bytes), run);
  outputs.open();
  inches = inches || job.job.units == LengthUnit::inch;
  made = pour_job(job.job, options.job, job.meshes, asked, run);
  outputs.commit(run, [&] {
    return json_to_stdout  ? pour_json(made->report)
           : options.quiet ? std::string()
                           : pour_text(made->report, inches);
  });
  return made->report.all_told() ? kHolds : kDoesNot;
}

} // namespace leastwall
