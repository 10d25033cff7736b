#include "app/commands/check_options.h"

#include "app/commands/length_option.h"
#include "app/commands/memory_option.h"
#include "app/commands/output_option.h"
#include "app/commands/run_options.h"

namespace leastwall {
CLI::App* add_check_command(CLI::App& app, CheckOptions& options) {
  CLI::App* check = app.add_subcommand("check", "Say whether every wall of a piece holds.");
  check->add_option("job", options.job, "job file; the options from --pocket to --units do without")
      ->type_name("JOB.toml");
  check->add_option("--pocket", options.pocket, "mesh of the inner pocket (side A)")
      ->type_name("FILE");
  check->add_option("--skin", options.skin, "mesh of the outer skin (side B)")->type_name("FILE");
  add_length(check, "--limit", options.limit_mm, "thinnest wall that still serves");
  add_length(check, "--z-zero", options.z_zero_mm,
             "a touch-off of Z zero is right within plus or minus this, on each side");
  add_length(check, "--bed-flatness", options.bed_flatness_mm,
             "highest minus lowest place of the spoilboard under the work");
  add_length(check, "--top-z", options.top_z_mm,
             "height of the pocket face in the meshes (found from them when not given)", true);
  check
      ->add_option_function<std::string>(
          "--units",
          [&options](const std::string& unit) {
            options.units = unit == "mm" ? LengthUnit::mm : LengthUnit::inch;
          },
          "unit of mesh files that state none")
      ->type_name("UNIT")
      ->transform(CLI::IsMember({"mm", "inch"}, CLI::ignore_case));
  add_length(check, "--pad-reading", options.pad_reading_mm,
             "measured thickness of the witness pad, cut in the waste by both programs");
  add_output(check, "--heatmap", options.heat_map, OutputKind::map,
             "write a picture of the wall (PNG or SVG) here");
  add_output(check, "--sheet", options.sheet, OutputKind::sheet,
             "write the setup sheet for the machine (PDF or HTML) here; needs a job file");
  add_output(check, "--card", options.card, OutputKind::sheet,
             "write one page of it in large type (PDF or HTML) here; needs a job file");
  check
      ->add_option_function<std::string>(
          "--paper",
          [&options](const std::string& size) {
            options.paper = size == "a4" ? PaperSize::a4 : PaperSize::letter;
          },
          "paper of setup sheet and card (default: a4)")
      ->type_name("SIZE")
      ->transform(CLI::IsMember({"a4", "letter"}, CLI::ignore_case));
  add_output(check, "--fields", options.fields, OutputKind::vdb,
             "write both surfaces as distance fields, and the wall (VDB), here");
  add_output(check, "--json", options.json, OutputKind::json,
             "write the result as JSON here; - is stdout");
  add_output(check, "--out", options.out_folder, OutputKind::folder,
             "write a folder: report.html to play with, picture, coloured mesh, JSON");
  add_threads(check, options.threads);
  add_memory(check, "--memory-limit", options.memory_limit_bytes,
             "do not begin a check that needs more memory (default: what is free)");
  check
      ->add_option("--against", options.against,
                   "JSON of an earlier check: tell what changed, before and after")
      ->type_name("FILE");
  check->add_flag("--all", options.all, "print everything that was found, not only what decides");
  add_inches(check, options.inches);
  add_quiet(check, options.quiet);
  return check;
}

} // namespace leastwall
