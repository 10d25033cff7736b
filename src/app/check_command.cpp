#include "app/check_command.h"

#include "app/check_piece.h"
#include "app/output_file.h"
#include "app/terminal.h"
#include "budget/reach.h"
#include "job/place_mesh.h"
#include "job/read_job.h"
#include "report/heat_map.h"
#include "report/json_report.h"
#include "report/setup_sheet.h"
#include "report/text_report.h"
#include "setup/quick_setup.h"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <tbb/parallel_invoke.h>

namespace leastwall {
namespace {

void require(bool given, const char* option, const char* what) {
  if (!given)
    throw InputError(fmt::format("check needs {}: {}", option, what));
}

/// One mesh of the piece: its file, how it is named to the user, how it is read.
struct MeshWanted {
  std::filesystem::path file;
  LoadOptions load;
  LoadedMesh loaded;
};

/// Reads both meshes at once.
void load_both(MeshWanted& pocket, MeshWanted& skin, std::vector<Notice>& warnings,
               const RunContext& run) {
  run.progress("reading meshes", 0);
  tbb::parallel_invoke([&] { pocket.loaded = load_mesh(pocket.file, pocket.load, run); },
                       [&] { skin.loaded = load_mesh(skin.file, skin.load, run); });
  std::error_code ignored;
  if (std::filesystem::equivalent(pocket.file, skin.file, ignored))
    warnings.push_back({"same-file", "Pocket and skin are the same file; give the inner surface as "
                                     "the pocket and the outer one as the skin."});
}

/// The input that the quick flags describe.
CheckInput quick_input(const CheckOptions& options, const RunContext& run) {
  require(options.sheet.empty(), "a job file for --sheet",
          "a sheet shows the whole set-up; `leastwall start` writes a job to begin with");
  require(!options.pocket.empty(), "--pocket FILE", "the mesh of the inner pocket, or a job file");
  require(!options.skin.empty(), "--skin FILE", "the mesh of the outer skin");
  require(options.limit_mm.has_value(), "--limit LENGTH", "the thinnest wall that still serves");
  CheckInput input;
  input.pocket_file = options.pocket;
  input.skin_file = options.skin;
  input.title = std::filesystem::path(options.skin).stem().string();
  LoadOptions load;
  load.unit_if_unstated = options.units;
  MeshWanted pocket{options.pocket, load, {}}, skin{options.skin, load, {}};
  load_both(pocket, skin, input.warnings, run);
  input.pocket = std::move(pocket.loaded);
  input.skin = std::move(skin.loaded);
  QuickFlags flags;
  flags.z_zero_mm = options.z_zero_mm.value_or(0);
  flags.bed_flatness_mm = options.bed_flatness_mm.value_or(0);
  input.setup = quick_setup(flags, input.assumptions);
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
CheckInput job_input(const CheckOptions& options, const RunContext& run) {
  if (!options.pocket.empty() || !options.skin.empty() || options.limit_mm || options.z_zero_mm ||
      options.bed_flatness_mm || options.top_z_mm || options.units)
    throw InputError(fmt::format("{}: a job file and --pocket, --skin, --limit, --z-zero, "
                                 "--bed-flatness, --top-z or --units together; write them in the "
                                 "job file instead",
                                 options.job));
  Job job = read_job(options.job);
  const Part& part = job.parts.at(0);
  const Pocket& cavity = part.pockets.at(0);
  CheckInput input;
  input.pocket_file = cavity.mesh.string();
  input.skin_file = part.skin.string();
  input.title = job.title.empty() ? part.skin.stem().string() : job.title;
  input.warnings = job.notices;
  MeshWanted pocket{cavity.mesh, {}, {}}, skin{part.skin, {}, {}};
  pocket.load.unit_if_unstated = cavity.placing.units;
  skin.load.unit_if_unstated = part.placing.units;
  load_both(pocket, skin, input.warnings, run);
  for (const auto& [mesh, placing] :
       {std::pair{&pocket.loaded, &cavity.placing}, {&skin.loaded, &part.placing}}) {
    place_mesh(mesh->mesh, *placing);
    mesh->findings.box = mesh->mesh.box();
  }
  input.pocket = std::move(pocket.loaded);
  input.skin = std::move(skin.loaded);
  // The pocket face that the meshes show replaces this one where the job states none.
  input.setup = setup_of(job, cavity, 0);
  input.top_z_mm = job.pocket_face_z_mm;
  input.budget.limit_mm = cavity.limit_mm;
  input.budget.accepted_chance = job.accepted_chance;
  input.budget.trials = job.trials;
  input.budget.seed = job.seed;
  input.assumptions = job.assumptions;
  input.flip_stated = job.flip.has_value();
  input.budget.pad.emplace();
  return input;
}

CheckInput input_of(const CheckOptions& options, const RunContext& run) {
  CheckInput input = options.job.empty() ? quick_input(options, run) : job_input(options, run);
  Box box = input.pocket.findings.box;
  box.add(input.skin.findings.box);
  input.reach_mm = reach_mm(input.setup, box);
  if (options.pad_reading_mm) {
    if (!input.budget.pad)
      input.budget.pad.emplace();
    input.budget.pad->reading_mm = options.pad_reading_mm;
  }
  return input;
}

} // namespace

ExitStatus run_check(const CheckOptions& options) {
  const RunContext run = terminal_context(!options.quiet);
  const bool json_to_stdout = options.json == "-";
  CheckInput input = input_of(options, run);
  // Opened before the long part, so that a folder that cannot be written is known at once.
  std::vector<OutputFile> files;
  files.reserve(3);
  OutputFile* json_file = nullptr;
  OutputFile* picture_file = nullptr;
  if (!options.json.empty() && !json_to_stdout)
    json_file = &files.emplace_back(options.json);
  if (!options.heat_map.empty())
    picture_file = &files.emplace_back(options.heat_map);
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
    picture.inch = options.inches;
    picture_file->write(draw_heat_map(result.wall.skin,
                                      {result.budget.expected_mm, result.budget.worst_mm},
                                      result.report, picture));
  }
  if (sheet_file != nullptr) {
    const SetupSheetInput sheet{result.report, result.setup, result.flip_stated, &result.wall.skin,
                                result.budget.worst_mm};
    sheet_file->write(setup_sheet(sheet, {options.paper, options.inches}));
  }
  run.check();
  for (OutputFile& file : files)
    file.commit();
  clear_progress();
  std::string text;
  if (json_to_stdout) {
    text = json;
  } else if (!options.quiet) {
    TextOptions style;
    style.colour = colour_on_stdout();
    style.show_inch = options.inches;
    text = text_report(result.report, style);
  }
  print_out(text);
  return status_of(result.report.verdict);
}

} // namespace leastwall
