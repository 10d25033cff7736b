#include "browser/door.h"

#include "app/os/exit_status.h"
#include "base/errors.h"
#include "browser/form_json.h"
#include "browser/instead/standard_streams.h"
#include "browser/page_memory.h"
#include "browser/page_progress.h"
#include "browser/summary.h"
#include "check/check_job.h"
#include "check/fit_memory.h"
#include "check/piece_input.h"
#include "check/pour/pour_job.h"
#include "check/prepare_input.h"
#include "check/quick/quick_input.h"
#include "check/reports/report_page.h"
#include "check/reports/report_sheets.h"
#include "job/edit_job.h"
#include "report/json/json_report.h"
#include "report/text/text_report.h"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <nlohmann/json.hpp>
#include <optional>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

using Json = nlohmann::json;

std::optional<double> number(const Json& request, const char* key) {
  const auto found = request.find(key);
  return found == request.end() ? std::nullopt : std::optional(found->get<double>());
}

QuickLook quick_look(const Json& request) {
  QuickLook look;
  look.pocket = request.value("pocket", "");
  look.skin = request.value("skin", "");
  look.limit_mm = number(request, "limit_mm");
  look.z_zero_mm = number(request, "z_zero_mm");
  look.bed_flatness_mm = number(request, "bed_flatness_mm");
  look.top_z_mm = number(request, "top_z_mm");
  if (request.contains("units"))
    look.units = request["units"] == "inch" ? LengthUnit::inch : LengthUnit::mm;
  return look;
}

/// Setup sheet and card for each paper, to be printed from the page.
void add_sheets(const JobResult& result, const BudgetOptions& budget, bool inches,
                const RunContext& run, Answer& answer) {
  run.progress("drawing the setup sheet", 1);
  for (const auto& [paper, name] :
       {std::pair{PaperSize::a4, "a4"}, {PaperSize::letter, "letter"}}) {
    ReportInput input{result, budget, inches, paper};
    input.sheet = SheetFile::html;
    answer.files.push_back({fmt::format("setup-sheet-{}.html", name), report_sheet(input, run)});
    answer.files.push_back({fmt::format("setup-card-{}.html", name), report_card(input, run)});
  }
  run.progress("done", 1);
}

/// As `leastwall check --out` does it, without the pictures.
void check(const Json& request, Answer& answer) {
  const RunContext run = page_context();
  MemoryLimit memory{std::nullopt, page_memory_bytes};
  if (const auto most = number(request, "memory_limit_bytes"))
    memory.asked_bytes = static_cast<std::uint64_t>(*most);
  const TellRead tell = [](const std::filesystem::path&) {};
  const std::string job_file = request.value("job", "");
  JobInput job = job_file.empty() ? job_of(read_quick_input(quick_look(request), tell, memory, run))
                                  : read_job_input(job_file, tell, memory, run);
  prepare_input(job, job_file, number(request, "pad_reading_mm"));
  CheckSize size;
  size.with_folder = true;
  require_memory_for(job, size, memory, run);
  const BudgetOptions budget = job.first().budget;
  const bool inches = request.value("inches", false) || budget.units == LengthUnit::inch;
  if (job.job && states_resin(*job.job))
    job.pour = std::make_shared<const Pour>(pour_job(*job.job, job_file, job.meshes, {}, run));
  const JobResult result = check_job(std::move(job), run);

  run.progress("writing the page", 1);
  answer.files.push_back({"check.json", json_report(result.report)});
  TextOptions style;
  style.show_inch = inches;
  answer.files.push_back({"check.txt", text_report(result.report, style)});
  answer.files.push_back({"report.html", report_page({result, budget, inches}, run)});
  if (result.walls.size() == 1)
    answer.files.push_back({"skin.glb", solid_of_wall(result.governing_wall())});
  else
    for (std::size_t w = 0; w < result.walls.size(); ++w)
      if (result.drawn[w])
        answer.files.push_back({fmt::format("wall-{}.glb", w + 1), solid_of_wall(result.walls[w])});
  if (!job_file.empty())
    add_sheets(result, budget, inches, run, answer);
  answer.summary = summary_json(result.report, inches);
  answer.status = status_of(result.report.wall.verdict);
}

/// As it stands in a job file: words, numbers and lists are the same there.
std::string toml_of(const Json& value) {
  if (!value.is_object())
    return value.dump();
  std::vector<std::string> keys;
  for (const auto& [key, inner] : value.items())
    keys.push_back(fmt::format("{} = {}", key, toml_of(inner)));
  return fmt::format("{{{}}}", fmt::join(keys, ", "));
}

std::vector<TypedKey> typed_in(const Json& request) {
  std::vector<TypedKey> typed;
  if (request.contains("typed"))
    for (const auto& [path, text] : request["typed"].items())
      typed.push_back({path, text.get<std::string>()});
  return typed;
}

void change(const Json& request, Answer& answer) {
  std::vector<KeyEdit> edits;
  const std::string name = request.at("job"), text = request.at("text");
  if (request.contains("set"))
    for (const auto& [key, value] : request["set"].items())
      edits.push_back({key, value.is_null() ? std::nullopt : std::optional(toml_of(value))});
  const TypedKeys typed = typed_keys(text, name, typed_in(request));
  if (!typed.wrong.empty())
    throw InputError(
        fmt::format("{}: {}: {}", name, typed.wrong.front().path, typed.wrong.front().text));
  edits.insert(edits.end(), typed.edits.begin(), typed.edits.end());
  answer.files.push_back({name, edited_job(text, name, edits)});
  answer.status = kHolds;
}

void form(const Json& request, Answer& answer) {
  const std::string name = request.at("job"), text = request.at("text");
  answer.summary = form_json(form_of_job(text, name), typed_keys(text, name, typed_in(request)));
  answer.status = kHolds;
}

Answer answered(void (*work)(const Json&, Answer&), std::string_view request) {
  Answer answer;
  try {
    work(Json::parse(request), answer);
  } catch (...) {
    answer.files.clear();
    answer.summary.clear();
    answer.status = report_current_exception();
  }
  answer.message = take_printed();
  return answer;
}

} // namespace

Answer answer_check(std::string_view request) {
  return answered(check, request);
}

Answer answer_change(std::string_view request) {
  return answered(change, request);
}

Answer answer_form(std::string_view request) {
  return answered(form, request);
}

} // namespace leastwall
