#include "app/commands/page_command.h"

#include "app/commands/output_option.h"
#include "app/output/outputs.h"
#include "base/errors.h"
#include "base/file/mapped_file.h"
#include "base/file/program_folder.h"

#include <filesystem>
#include <fmt/format.h>

namespace leastwall {
namespace {

namespace fs = std::filesystem;

/// Installed beside the program, or where scripts/browser.sh built it.
fs::path installed_page() {
  std::error_code ignored;
  const fs::path folder = program_folder();
  for (const fs::path& page : {folder / ".." / "share" / "leastwall" / "leastwall.html",
                               folder / ".." / "browser" / "leastwall.html"})
    if (fs::exists(page, ignored))
      return page;
  throw RunError("leastwall.html was not found beside the program: it is built by "
                 "scripts/browser.sh before the program is installed");
}

} // namespace

CLI::App* add_page_command(CLI::App& app, PageOptions& options) {
  CLI::App* page = app.add_subcommand(
      "page", "Write the page that does a check in any browser, offline: for Windows, Mac, phone.");
  add_output(page, "file", options.file, OutputKind::html, "where to write the page")->required();
  return page;
}

ExitStatus run_page(const PageOptions& options) {
  const fs::path from = installed_page();
  Outputs outputs;
  outputs.prints("the next step");
  outputs.add(
      "page", options.file, [&from] { return std::string(MappedFile(from).text()); },
      OldFile::kept);
  outputs.reads(from);
  outputs.open();
  outputs.commit({}, [&options] {
    return fmt::format("Wrote {}. Open it in a browser, on any machine; it needs no network.\n",
                       options.file);
  });
  return kHolds;
}

} // namespace leastwall
