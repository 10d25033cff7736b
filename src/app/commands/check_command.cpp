#include "app/commands/check_command.h"

#include "app/os/available_memory.h"
#include "app/os/crash_handler.h"
#include "app/os/standard_streams.h"
#include "app/os/terminal.h"
#include "app/output/out_folder.h"
#include "app/output/output_file.h"
#include "app/output/run_files.h"
#include "check/bed_under_piece.h"
#include "check/check_piece.h"
#include "check/fit_memory.h"
#include "check/piece_input.h"
#include "report/json/json_report.h"
#include "report/maps/bed_map_picture.h"
#include "report/maps/heat_map.h"
#include "report/sheet/setup_sheet.h"
#include "report/text/text_report.h"
#include "setup/quick_setup.h"

#include <filesystem>
#include <fmt/format.h>

namespace leastwall {
namespace {

void require(bool given, const char* option, const char* what) {
  if (!given)
    throw InputError(fmt::format("check needs {}: {}", option, what));
}

/// The input that the quick flags describe.
CheckInput quick_input(const CheckOptions& options, RunFiles& files, const RunContext& run) {
  require(options.sheet.empty(), "a job file for --sheet",
          "a sheet shows the whole set-up; `leastwall start` writes a job to begin with");
  require(!options.pad_reading_mm, "a job file for --pad-reading",
          "where the pad stands follows from the whole set-up");
  require(!options.pocket.empty(), "--pocket FILE", "the mesh of the inner pocket, or a job file");
  require(!options.skin.empty(), "--skin FILE", "the mesh of the outer skin");
  require(options.limit_mm.has_value(), "--limit LENGTH", "the thinnest wall that still serves");
  if (!(*options.limit_mm > 0))
    throw InputError("--limit must be over 0: give the thinnest wall that still serves");
  files.reads(options.pocket);
  files.reads(options.skin);
  CheckInput input;
  input.pocket_file = options.pocket;
  input.skin_file = options.skin;
  input.title = std::filesystem::path(options.skin).stem().string();
  LoadOptions load;
  load.unit_if_unstated = options.units;
  MeshWanted pocket{options.pocket, load, {}}, skin{options.skin, load, {}};
  QuickFlags flags;
  flags.z_zero_mm = options.z_zero_mm.value_or(0);
  flags.bed_flatness_mm = options.bed_flatness_mm.value_or(0);
  input.setup = quick_setup(flags, input.assumptions);
  load_both(pocket, skin, input, memory_limit(options.memory_limit_bytes), run);
  input.pocket = std::move(pocket.loaded);
  input.skin = std::move(skin.loaded);
  if (!options.z_zero_mm)
    input.assumptions.push_back("no error of the Z zero was stated (--z-zero): none is counted");
  if (!options.bed_flatness_mm)
    input.assumptions.push_back(
        "no flatness of the bed was stated (--bed-flatness): none is counted");
  input.budget.limit_mm = *options.limit_mm;
  input.top_z_mm = options.top_z_mm;
  return input;
}

/// The input that a job file describes.
CheckInput job_input(const CheckOptions& options, RunFiles& files, const RunContext& run) {
  if (!options.pocket.empty() || !options.skin.empty() || options.limit_mm || options.z_zero_mm ||
      options.bed_flatness_mm || options.top_z_mm || options.units)
    throw InputError(fmt::format("{}: a job file and --pocket, --skin, --limit, --z-zero, "
                                 "--bed-flatness, --top-z or --units together; write them in the "
                                 "job file instead",
                                 options.job));
  files.reads(options.job);
  return read_job_input(
      options.job, [&files](const std::filesystem::path& file) { files.reads(file); },
      memory_limit(options.memory_limit_bytes), run);
}

CheckInput input_of(const CheckOptions& options, RunFiles& files, const RunContext& run) {
  CheckInput input =
      options.job.empty() ? quick_input(options, files, run) : job_input(options, files, run);
  require_bed_under_piece(input, options.job, "bed.origin");
  fill_reach(input);
  if (options.pad_reading_mm) {
    if (!input.budget.pad)
      input.budget.pad.emplace();
    input.budget.pad->reading_mm = options.pad_reading_mm;
  }
  return input;
}

/// All that the run writes, told before anything is read.
RunFiles outputs_of(const CheckOptions& options) {
  RunFiles files;
  if (options.json == "-")
    files.prints("the JSON");
  else if (!options.quiet)
    files.prints("the text");
  for (const auto& [option, file] : {std::pair<std::string, std::string>{"--json", options.json},
                                     {"--heatmap", options.heat_map},
                                     {"--sheet", options.sheet}})
    if (!file.empty() && file != "-")
      files.writes(option, file);
  if (!options.out_folder.empty())
    for (const std::filesystem::path& file : files_in_out_folder(options.out_folder))
      files.writes("--out", file);
  return files;
}

} // namespace

ExitStatus run_check(const CheckOptions& options) {
  const RunContext run = terminal_context(!options.quiet);
  const bool json_to_stdout = options.json == "-";
  RunFiles all = outputs_of(options);
  CheckInput input = input_of(options, all, run);
  CheckSize size;
  size.with_picture = !options.heat_map.empty() || !options.sheet.empty();
  size.with_folder = !options.out_folder.empty();
  require_memory_for(input, size, memory_limit(options.memory_limit_bytes), run);
  // Opened before the long part, so that a folder that cannot be written is known at once.
  std::unique_lock<std::mutex> held; // outlives the files: none else puts them back meanwhile
  std::vector<OutputFile> files;
  files.reserve(3);
  OutputFile* json_file = nullptr;
  OutputFile* picture_file = nullptr;
  if (!options.json.empty() && !json_to_stdout)
    json_file = &files.emplace_back(options.json);
  if (!options.heat_map.empty())
    picture_file = &files.emplace_back(options.heat_map);
  std::optional<OutFolder> folder;
  if (!options.out_folder.empty())
    folder.emplace(options.out_folder,
                   OutFolderFiles{!options.job.empty(), has_bed_map(input.setup)});
  const BudgetOptions budget_options = input.budget;
  // A job in inches speaks inches.
  const bool inches = options.inches || input.budget.units == LengthUnit::inch;
  OutputFile* sheet_file = nullptr;
  if (!options.sheet.empty())
    sheet_file = &files.emplace_back(options.sheet);

  const CheckResult result = check_piece(std::move(input), run);
  std::string json;
  if (json_to_stdout || json_file != nullptr)
    json = json_report(result.report);
  if (json_file != nullptr)
    json_file->write(json);
  if (picture_file != nullptr) {
    run.progress("drawing", 0.95);
    HeatMapOptions picture;
    picture.inch = inches;
    picture_file->write(draw_heat_map(result.wall.skin,
                                      {result.budget.expected_mm, result.budget.worst_mm},
                                      result.report, picture));
  }
  if (folder)
    folder->write({result, budget_options, inches, options.paper}, run);
  if (sheet_file != nullptr) {
    const SetupSheetInput sheet{result.report, result.setup, result.flip_stated, &result.wall.skin,
                                result.budget.worst_mm};
    sheet_file->write(setup_sheet(sheet, {options.paper, inches}));
  }
  for (OutputFile& file : files)
    file.flush();
  if (folder)
    folder->flush();
  std::string text;
  if (json_to_stdout) {
    text = json;
  } else if (!options.quiet) {
    TextOptions style;
    style.colour = colour_on_stdout();
    style.show_inch = inches;
    text = text_report(result.report, style);
  }
  held = hold_ending();
  run.check();
  for (OutputFile& file : files)
    file.place();
  if (folder)
    folder->place();
  clear_progress();
  print_out(text);
  for (OutputFile& file : files)
    file.keep();
  if (folder)
    folder->keep();
  held.unlock();
  outcome_stands();
  return status_of(result.report.verdict);
}

} // namespace leastwall
