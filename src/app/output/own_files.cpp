#include "app/output/own_files.h"

#include "app/output/written_place.h"
#include "base/errors.h"
#include "base/text/lower_case.h"
#include "check/reports/report_files.h"
#include "report/json/json_report.h"

#include <algorithm>
#include <fmt/format.h>
#include <fstream>
#include <iterator>
#include <string_view>

namespace leastwall {
namespace {

constexpr std::size_t kHead = 400; // bytes of a report that tell whose it is

/// A report of whatever version: the schema without its number.
bool is_report(std::string_view head) {
  const std::string_view id = kCheckSchemaId;
  return head.find(fmt::format("\"{}", id.substr(0, id.rfind('/') + 1))) != head.npos;
}

bool has_report(const std::filesystem::path& folder) {
  std::ifstream in(folder / kJsonName, std::ios::binary);
  std::string head(kHead, '\0');
  in.read(head.data(), static_cast<std::streamsize>(head.size()));
  return is_report(head);
}

} // namespace

void require_own_files(const std::filesystem::path& folder, std::span<const std::string> names) {
  if (has_report(folder))
    return;
  std::error_code ignored;
  for (const std::string& name : names)
    if (std::filesystem::exists(folder / name, ignored))
      throw InputError(
          fmt::format("--out {}: the folder holds {}, and no earlier run left it there; "
                      "name a new folder",
                      folder.string(), name));
}

void require_no_source(const std::string& option, const std::filesystem::path& target) {
  constexpr std::string_view kEndings[] = {".stl", ".obj", ".ply", ".off",  ".glb", ".gltf",
                                           ".3mf", ".dae", ".vdb", ".toml", ".csv", ".tsv"};
  const std::string ending = lower_case(target.extension().string());
  std::error_code ignored;
  const bool own = ending == ".vdb" && option == "--fields";
  if (!own && std::ranges::find(kEndings, ending) != std::end(kEndings) &&
      std::filesystem::exists(written_place(target), ignored))
    throw InputError(fmt::format("{}: {} is there and its name says that it holds something else; "
                                 "name a new file",
                                 option, target.string()));
}

} // namespace leastwall
