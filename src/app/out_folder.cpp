#include "app/out_folder.h"

#include "report/coloured_mesh.h"
#include "report/heat_map.h"
#include "report/json_report.h"
#include "report/page.h"

#include <fmt/format.h>
#include <functional>

namespace leastwall {
namespace {

struct FileOfFolder {
  const char* name;
  std::function<std::string(const OutFolderInput&, const RunContext&)> bytes;
};

std::string picture(const OutFolderInput& input, const RunContext&) {
  HeatMapOptions options;
  options.inch = input.inches;
  const CheckResult& r = input.result;
  return draw_heat_map(r.wall.skin, {r.budget.expected_mm, r.budget.worst_mm}, r.report, options);
}

/// Every file of the folder, in the order they are written.
const std::vector<FileOfFolder>& files_of_folder() {
  static const std::vector<FileOfFolder> files = {
      {"check.json",
       [](const OutFolderInput& in, const RunContext&) { return json_report(in.result.report); }},
      {"wall.png", picture},
      {"skin.ply",
       [](const OutFolderInput& in, const RunContext&) {
         return coloured_ply(in.result.wall.skin, in.result.budget.expected_mm);
       }},
      {"skin.glb",
       [](const OutFolderInput& in, const RunContext&) {
         return coloured_glb(in.result.wall.skin, in.result.budget.expected_mm);
       }},
      {"report.html",
       [](const OutFolderInput& in, const RunContext& run) {
         return page_html(
             {in.result.report, in.result.wall.skin, in.result.budget, in.budget_options, in.flip},
             run);
       }},
  };
  return files;
}

} // namespace

OutFolder::OutFolder(const std::filesystem::path& folder) : folder_(folder) {
  std::error_code error;
  made_ = std::filesystem::create_directory(folder_, error);
  if (!std::filesystem::is_directory(folder_))
    throw InputError(fmt::format("{}: no folder can be made there ({}); check the path",
                                 folder_.string(),
                                 error ? error.message() : "a file of that name is in the way"));
  try {
    files_.reserve(files_of_folder().size());
    for (const FileOfFolder& file : files_of_folder())
      files_.emplace_back(folder_ / file.name);
  } catch (...) {
    files_.clear();
    if (made_)
      std::filesystem::remove(folder_, error);
    throw;
  }
}

OutFolder::~OutFolder() {
  files_.clear();
  std::error_code ignored;
  if (made_)
    std::filesystem::remove(folder_, ignored); // only when empty
}

void OutFolder::write(const OutFolderInput& input, const RunContext& run) {
  const std::vector<FileOfFolder>& all = files_of_folder();
  for (std::size_t i = 0; i < all.size(); ++i) {
    run.progress("writing the folder", static_cast<double>(i) / static_cast<double>(all.size()));
    run.check();
    files_[i].write(all[i].bytes(input, run));
  }
}

void OutFolder::commit() {
  for (OutputFile& file : files_)
    file.commit();
  made_ = false;
}

} // namespace leastwall
