#include "app/commands/mend_command.h"

#include "app/commands/memory_option.h"
#include "app/commands/output_option.h"
#include "app/commands/run_options.h"
#include "app/os/available_memory.h"
#include "app/os/standard_streams.h"
#include "app/os/terminal.h"
#include "app/output/outputs.h"
#include "check/hollow/mend_drawing.h"
#include "report/mesh/stl_mesh.h"
#include "report/text/hollow_text.h"
#include "report/text/mend_text.h"

#include <filesystem>
#include <utility>

namespace leastwall {
CLI::App* add_mend_command(CLI::App& app, MendCommand& options) {
  CLI::App* mend = app.add_subcommand(
      "mend", "Change a pocket only where its wall is too thin, so that it holds.");
  mend->add_option("job", options.job, "job file")->type_name("JOB.toml")->required();
  add_output(mend, "--to", options.to, OutputKind::stl,
             "write the mended pocket (STL, as the job reads it) here")
      ->required();
  mend->add_option("--pocket", options.pocket, "which pocket, where the job has several")
      ->type_name("NAME");
  add_output(mend, "--picture", options.picture, OutputKind::png,
             "write a picture of the change (PNG) here");
  add_threads(mend, options.threads);
  add_memory(mend, "--memory-limit", options.memory_limit_bytes,
             "do not begin when more memory is needed (default: what is free)");
  add_inches(mend, options.inches);
  add_quiet(mend, options.quiet);
  return mend;
}

ExitStatus run_mend(const MendCommand& options) {
  const RunContext run = terminal_context(!options.quiet);
  Outputs outputs;
  if (!options.quiet)
    outputs.prints("the text");
  std::optional<JobWithPocket> job;
  std::optional<Mended> made;
  bool inches = options.inches;
  outputs.add(
      "--to", options.to, [&made] { return stl_bytes(made->written); },
      OldFile::kept); // it may be somebody's work
  if (!options.picture.empty())
    outputs.add("--picture", options.picture,
                [&job, &made, &inches] { return mend_drawing(*job, *made, inches); });
  outputs.reads(options.job);
  const MemoryLimit memory = memory_limit(options.memory_limit_bytes);
  job = read_job_to_mend(
      options.job, options.pocket,
      [&outputs](const std::filesystem::path& file) { outputs.reads(file); }, memory, run);
  outputs.open();
  inches = inches || job->job.units == LengthUnit::inch;
  std::variant<Mended, NothingToMend, NoPocket> result = mend_job(*job, memory, run);
  const auto say = [&](const std::string& text) {
    clear_progress();
    if (!options.quiet)
      print_out(text);
  };
  if (const NoPocket* why = std::get_if<NoPocket>(&result)) {
    say(no_pocket_text(*why, inches));
    return kDoesNot;
  }
  if (const NothingToMend* none = std::get_if<NothingToMend>(&result)) {
    say(nothing_to_mend_text(job->pocket().name, none->check.report, inches));
    return status_of(none->check.report.wall.verdict);
  }
  made = std::get<Mended>(std::move(result));
  outputs.commit(run, [&] {
    return options.quiet ? std::string()
                         : mend_text(made->report, made->check.report, options.to, inches);
  });
  return status_of(made->check.report.wall.verdict);
}

} // namespace leastwall
