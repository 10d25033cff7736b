#include "app/commands/check_command.h"

#include "app/commands/output_option.h"
#include "app/os/available_memory.h"
#include "app/os/terminal.h"
#include "app/output/outputs.h"
#include "app/output/own_files.h"
#include "base/file/text_file.h"
#include "base/text/wrap_text.h"
#include "check/check_job.h"
#include "check/fields/job_fields.h"
#include "check/fit_memory.h"
#include "check/piece_input.h"
#include "check/pour/pour_job.h"
#include "check/prepare_input.h"
#include "check/quick/quick_input.h"
#include "check/reports/report_files.h"
#include "report/json/earlier_check.h"
#include "report/json/json_report.h"
#include "report/maps/bed_map_picture.h"
#include "report/text/text_report.h"

#include <filesystem>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <functional>
#include <memory>
#include <optional>
#include <tuple>
#include <vector>

namespace leastwall {
namespace {

constexpr int kColumns = 80;

/// The input that the quick flags describe.
CheckInput quick_input(const CheckOptions& options, Outputs& outputs, const RunContext& run) {
  for (const auto& [option, target] :
       {std::pair<const char*, const std::string&>{"--sheet", options.sheet},
        {"--card", options.card}})
    if (!target.empty())
      throw InputError(fmt::format("check needs a job file for {}: it shows the whole set-up; "
                                   "`leastwall start` writes a job to begin with",
                                   option));
  if (options.pad_reading_mm)
    throw InputError("check needs a job file for --pad-reading: where the pad stands follows from "
                     "the whole set-up");
  return read_quick_input(
      {options.pocket, options.skin, options.limit_mm, options.z_zero_mm, options.bed_flatness_mm,
       options.top_z_mm, options.units},
      [&outputs](const std::filesystem::path& file) { outputs.reads(file); },
      memory_limit(options.memory_limit_bytes), run);
}

/// The input that a job file describes.
JobInput job_input(const CheckOptions& options, Outputs& outputs, const RunContext& run) {
  if (!options.pocket.empty() || !options.skin.empty() || options.limit_mm || options.z_zero_mm ||
      options.bed_flatness_mm || options.top_z_mm || options.units)
    throw InputError(fmt::format("{}: a job file and --pocket, --skin, --limit, --z-zero, "
                                 "--bed-flatness, --top-z or --units together; write them in the "
                                 "job file instead",
                                 options.job));
  outputs.reads(options.job);
  return read_job_input(
      options.job, [&outputs](const std::filesystem::path& file) { outputs.reads(file); },
      memory_limit(options.memory_limit_bytes), run);
}

JobInput input_of(const CheckOptions& options, Outputs& outputs, const RunContext& run) {
  JobInput job = options.job.empty() ? job_of(quick_input(options, outputs, run))
                                     : job_input(options, outputs, run);
  prepare_input(job, options.job, options.pad_reading_mm);
  return job;
}

/// The folder of reports; `input` and `made` are asked when they are known.
std::vector<Outputs::File>
folder_files(const CheckOptions& options, const std::optional<JobInput>& input,
             const std::function<std::string(const ReportFile&)>& made,
             const std::function<std::string(const NumberedFile&)>& drawn) {
  std::vector<Outputs::File> files;
  for (const ReportFile& file : report_files())
    files.push_back({file.name, [&made, &file] { return made(file); },
                     [&options, &input, &file] {
                       return may_be_made(file.needs, *input, !options.job.empty());
                     }});
  for (const NumberedFile& file : numbered_files())
    files.push_back({file.name, [&drawn, file] { return drawn(file); },
                     [&input, file] { return file.may_be_made(*input); }});
  return files;
}

/// Every file that a folder of reports may hold.
std::vector<std::string> file_names() {
  std::vector<std::string> names;
  for (const ReportFile& file : report_files())
    names.emplace_back(file.name);
  for (const NumberedFile& file : numbered_files())
    names.push_back(file.name);
  return names;
}

/// The bytes of the earlier check, of use; empty where none is named.
std::string earlier_check(const CheckOptions& options, Outputs& outputs) {
  if (options.against.empty())
    return {};
  outputs.reads(options.against);
  std::string bytes = read_text_file(options.against, kLargestEarlierCheck + 1,
                                     {.missing = "name what an earlier `check --json` wrote",
                                      .folder = "name the check.json in it",
                                      .other = "name what an earlier `check --json` wrote"});
  require_earlier_check(bytes, options.against);
  return bytes;
}

/// What was written where, by the names that were given.
std::string written(const CheckOptions& options) {
  std::vector<std::string> names;
  if (!options.out_folder.empty())
    names.push_back(fmt::format("{} (open {})", options.out_folder,
                                (std::filesystem::path(options.out_folder) / kPageName).string()));
  for (const std::string* file :
       {&options.heat_map, &options.sheet, &options.card, &options.fields, &options.json})
    if (!file->empty() && *file != "-")
      names.push_back(*file);
  if (names.empty())
    return {};
  return "\n" + wrap_text(printable(fmt::format("Written: {}", fmt::join(names, ", "))), kColumns);
}

} // namespace

ExitStatus run_check(const CheckOptions& options) {
  const RunContext run = terminal_context(!options.quiet);
  std::optional<JobInput> input;
  std::optional<JobResult> result;
  std::optional<Comparison> against;
  BudgetOptions budget;
  bool inches = options.inches;
  const auto made_for = [&](const ReportFile& file, const std::string& target) {
    return file.bytes({*result, budget, inches, options.paper, picture_file(target),
                       sheet_file(target), against ? &*against : nullptr},
                      run);
  };
  const std::function<std::string(const ReportFile&)> made = [&](const ReportFile& file) {
    return made_for(file, file.name);
  };
  const std::function<std::string(const NumberedFile&)> drawn = [&](const NumberedFile& file) {
    return file.bytes(*result, inches);
  };

  // What is written is told before anything is read.
  Outputs outputs;
  const bool json_to_stdout = prints_json(outputs, options.json, options.quiet);
  for (const auto& [option, target, name] :
       {std::tuple<const char*, const std::string&, const char*>{"--json", options.json, kJsonName},
        {"--heatmap", options.heat_map, kWallMapName},
        {"--sheet", options.sheet, kSheetName},
        {"--card", options.card, kCardName}})
    if (!target.empty() && target != "-")
      outputs.add(option, target, [&made_for, name = name, &target = target] {
        return made_for(report_file(name), target);
      });
  std::optional<JobFields> fields;
  if (!options.fields.empty())
    outputs.add("--fields", options.fields, [&] { return fields->bytes(run); });
  if (!options.out_folder.empty())
    outputs.add_folder("--out", options.out_folder, folder_files(options, input, made, drawn),
                       false);

  const std::string earlier = earlier_check(options, outputs);
  input = input_of(options, outputs, run);
  CheckSize size;
  size.with_picture = !(options.heat_map.empty() && options.sheet.empty() && options.card.empty());
  size.with_folder = !options.out_folder.empty();
  size.with_fields = !options.fields.empty();
  require_memory_for(*input, size, memory_limit(options.memory_limit_bytes), run);
  if (!options.out_folder.empty())
    require_own_files(options.out_folder, file_names());
  outputs.open();
  if (!options.fields.empty())
    fields.emplace(*input);

  if (input->job && states_resin(*input->job) &&
      !(options.sheet.empty() && options.out_folder.empty()))
    input->pour =
        std::make_shared<const Pour>(pour_job(*input->job, options.job, input->meshes, {}, run));

  budget = input->first().budget;
  inches = inches || budget.units == LengthUnit::inch; // a job in inches speaks inches
  result = check_job(std::move(*input), run);
  if (!options.against.empty())
    against = compared_checks(earlier, options.against, json_report(result->report));
  outputs.commit(run, [&] {
    if (json_to_stdout)
      return made(report_file(kJsonName));
    if (options.quiet)
      return std::string();
    TextOptions style;
    style.colour = colour_on_stdout();
    style.show_inch = inches;
    style.all = options.all;
    style.against = against ? &*against : nullptr;
    return text_report(result->report, style) + written(options);
  });
  return status_of(result->report.wall.verdict);
}

} // namespace leastwall
