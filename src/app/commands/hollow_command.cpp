#include "app/commands/hollow_command.h"

#include "app/commands/length_option.h"
#include "app/commands/memory_option.h"
#include "app/commands/output_option.h"
#include "app/commands/run_options.h"
#include "app/os/available_memory.h"
#include "app/os/standard_streams.h"
#include "app/os/terminal.h"
#include "app/output/outputs.h"
#include "base/errors.h"
#include "check/hollow/hollow_job.h"
#include "report/mesh/stl_mesh.h"
#include "report/text/hollow_text.h"

#include <filesystem>
#include <fmt/format.h>

namespace leastwall {
CLI::App* add_hollow_command(CLI::App& app, HollowCommand& options) {
  CLI::App* hollow = app.add_subcommand(
      "hollow", "Make the pocket from the skin: the largest one whose walls hold.");
  hollow->add_option("job", options.job, "job file; its pocket needs no mesh yet")
      ->type_name("JOB.toml")
      ->required();
  add_output(hollow, "--to", options.to, OutputKind::stl, "write the pocket (STL, mm) here")
      ->required();
  add_length(hollow, "--wall", options.wall_mm,
             "leave this wall everywhere instead of what limit and errors need");
  add_length(hollow, "--depth", options.depth_mm, "no deeper than this under the pocket face");
  add_threads(hollow, options.threads);
  add_memory(hollow, "--memory-limit", options.memory_limit_bytes,
             "do not begin when more memory is needed (default: what is free)");
  add_inches(hollow, options.inches);
  add_quiet(hollow, options.quiet);
  return hollow;
}

ExitStatus run_hollow(const HollowCommand& options) {
  for (const auto& [length, name] :
       {std::pair{options.wall_mm, "--wall"}, std::pair{options.depth_mm, "--depth"}})
    if (length && !(*length > 0))
      throw InputError(fmt::format("{} must be over 0", name));
  const RunContext run = terminal_context(!options.quiet);
  Outputs outputs;
  if (!options.quiet)
    outputs.prints("the text");
  std::optional<Hollowed> made;
  outputs.add(
      "--to", options.to, [&made] { return stl_bytes(made->written); },
      OldFile::kept); // it may be somebody's work
  outputs.reads(options.job);
  const MemoryLimit memory = memory_limit(options.memory_limit_bytes);
  const JobWithPocket job = read_job_to_hollow(
      options.job, [&outputs](const std::filesystem::path& file) { outputs.reads(file); }, memory,
      run);
  outputs.open();
  const bool inches = options.inches || job.job.units == LengthUnit::inch;
  std::variant<Hollowed, NoPocket> result =
      hollow_job(job, {options.wall_mm, options.depth_mm}, memory, run);
  if (const NoPocket* why = std::get_if<NoPocket>(&result)) {
    clear_progress();
    if (!options.quiet)
      print_out(no_pocket_text(*why, inches));
    return kDoesNot;
  }
  made = std::get<Hollowed>(std::move(result));
  outputs.commit(run, [&] {
    return options.quiet ? std::string()
                         : hollow_text(made->report, made->check.report, options.to, inches);
  });
  return kHolds;
}

} // namespace leastwall
