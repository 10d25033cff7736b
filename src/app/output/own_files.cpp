#include "app/output/own_files.h"

#include "base/errors.h"

#include <fmt/format.h>
#include <fstream>

namespace leastwall {
namespace {

constexpr std::size_t kHead = 400; // bytes of a report that tell whose it is

bool has_report(const std::filesystem::path& folder) {
  std::ifstream in(folder / "check.json", std::ios::binary);
  std::string head(kHead, '\0');
  in.read(head.data(), static_cast<std::streamsize>(head.size()));
  return head.find("\"leastwall/check/") != head.npos;
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

} // namespace leastwall
