#include "app/output/out_folder.h"

#include "base/errors.h"
#include "report/json/json_report.h"
#include "report/maps/bed_map_picture.h"
#include "report/maps/heat_map.h"
#include "report/maps/shop_map.h"
#include "report/mesh/coloured_mesh.h"
#include "report/page/page.h"
#include "report/sheet/setup_sheet.h"

#include <filesystem>
#include <fmt/format.h>
#include <fstream>
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

std::string shop_map(const OutFolderInput& input, ShopMapKind kind,
                     std::optional<Side> machine = std::nullopt) {
  const CheckResult& r = input.result;
  ShopMapOptions options;
  options.kind = kind;
  options.machine = machine;
  options.inch = input.inches;
  return draw_shop_map({r.wall.skin, r.budget, r.report, r.setup, r.flip_stated}, options);
}

/// A row of the table below for one of the further maps.
FileOfFolder map_file(const char* name, ShopMapKind kind,
                      std::optional<Side> machine = std::nullopt) {
  return {name, [kind, machine](const OutFolderInput& in, const RunContext&) {
            return shop_map(in, kind, machine);
          }};
}

std::string bed_map(const OutFolderInput& input) {
  const CheckResult& r = input.result;
  const BedMap& bed = *r.setup.bed.readings;
  const Flatness flatness = judge_flatness(bed.points());
  BedPictureOptions options;
  options.inch = input.inches;
  options.title = bed_map_title(flatness, r.report.title);
  options.note = bed_map_note(flatness, "the job");
  return draw_bed_map(bed, flatness, piece_on_bed(r.setup, r.wall.skin), options);
}

constexpr const char* kBedMapName = "bed.png";
constexpr std::size_t kHead = 400; // bytes of a report that tell whose it is
constexpr const char* kSheetName = "setup-sheet.pdf";

/// Every file of the folder, in the order they are written.
const std::vector<FileOfFolder>& files_of_folder() {
  static const std::vector<FileOfFolder> files = {
      {"check.json",
       [](const OutFolderInput& in, const RunContext&) { return json_report(in.result.report); }},
      {"wall.png", picture},
      map_file("wall-design.png", ShopMapKind::design),
      map_file("wall-expected.png", ShopMapKind::expected),
      map_file("wall-worst.png", ShopMapKind::worst),
      map_file("causes.png", ShopMapKind::causes),
      map_file("side-a.png", ShopMapKind::expected, Side::a),
      map_file("side-b.png", ShopMapKind::expected, Side::b),
      {kBedMapName, [](const OutFolderInput& in, const RunContext&) { return bed_map(in); }},
      {kSheetName,
       [](const OutFolderInput& in, const RunContext&) {
         const CheckResult& r = in.result;
         return setup_sheet({r.report, r.setup, r.flip_stated, &r.wall.skin, r.budget.worst_mm},
                            {in.paper, in.inches});
       }},
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
         return page_html({in.result.report, in.result.wall.skin, in.result.budget,
                           in.budget_options, in.result.setup, in.inches},
                          run);
       }},
  };
  return files;
}

/// The files of one folder.
std::vector<FileOfFolder> wanted(const OutFolderFiles& which) {
  std::vector<FileOfFolder> files = files_of_folder();
  std::erase_if(files, [&](const FileOfFolder& f) {
    const std::string_view name = f.name;
    return (name == kSheetName && !which.sheet) || (name == kBedMapName && !which.bed_map);
  });
  return files;
}

/// Throws InputError when the folder has a file of one of these names that no earlier run left:
/// then there is no report of a run beside it.
void require_own_files(const std::filesystem::path& folder,
                       const std::vector<FileOfFolder>& files) {
  std::error_code ignored;
  std::string report;
  if (std::ifstream in(folder / "check.json", std::ios::binary); in) {
    report.resize(kHead);
    in.read(report.data(), static_cast<std::streamsize>(kHead));
  }
  if (report.find("\"leastwall/check/") != report.npos)
    return;
  for (const FileOfFolder& file : files)
    if (std::filesystem::exists(folder / file.name, ignored))
      throw InputError(
          fmt::format("--out {}: the folder holds {}, and no earlier run left it there; "
                      "name a new folder",
                      folder.string(), file.name));
}

} // namespace

std::vector<std::filesystem::path> files_in_out_folder(const std::filesystem::path& folder) {
  std::vector<std::filesystem::path> files;
  for (const FileOfFolder& file : files_of_folder())
    files.push_back(folder / file.name);
  return files;
}

OutFolder::OutFolder(const std::filesystem::path& folder, const OutFolderFiles& which)
    : folder_(folder), which_(which), made_(folder, false) {
  const std::vector<FileOfFolder> all = wanted(which_);
  require_own_files(folder_, all);
  files_.reserve(all.size());
  for (const FileOfFolder& file : all)
    files_.emplace_back(folder_ / file.name);
}

void OutFolder::write(const OutFolderInput& input, const RunContext& run) {
  const std::vector<FileOfFolder> all = wanted(which_);
  for (std::size_t i = 0; i < all.size(); ++i) {
    run.progress("writing the folder", static_cast<double>(i) / static_cast<double>(all.size()));
    run.check();
    files_[i].write(all[i].bytes(input, run));
  }
}

void OutFolder::flush() {
  for (OutputFile& file : files_)
    file.flush();
}

void OutFolder::place() {
  for (OutputFile& file : files_)
    file.place();
}

void OutFolder::keep() noexcept {
  for (OutputFile& file : files_)
    file.keep();
  made_.keep();
}

} // namespace leastwall
