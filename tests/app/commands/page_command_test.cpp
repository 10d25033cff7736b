// `leastwall page` as a user runs it: from a program installed with its page, and from one without.
#include "app/small_piece.h"

#include <filesystem>

using namespace leastwall;
using namespace leastwall::test;
namespace fs = std::filesystem;

TEST_CASE("page: what was installed is written, over nothing that is there") {
  const TempDir folder;
  const fs::path program = folder.path() / "bin" / "leastwall";
  fs::create_directories(program.parent_path());
  fs::create_directories(folder.path() / "share" / "leastwall");
  fs::copy_file(fs::path(LEASTWALL_BUILD_DIR) / "leastwall", program);
  const std::string to = (folder.path() / "shop.html").string();
  const auto page = [&](const std::string& file) {
    return run_program({program.string(), "page", file});
  };

  check_refused(page(to), 3, {"leastwall.html", "scripts/browser.sh"});
  CHECK_FALSE(fs::exists(to));
  const std::string bytes = "<!doctype html>\n<p>\xc3\xa9\0</p>\n";
  folder.file("share/leastwall/leastwall.html", bytes);
  const RunResult made = page(to);
  INFO(made.err);
  CHECK(made.status == 0);
  CHECK(has(made.out, "shop.html"));
  CHECK(file_text(to) == bytes);
  check_refused(page(to), 2, {"shop.html", "exists"});
  check_refused(page((folder.path() / "page.pdf").string()), 2, {".pdf", ".html"});
  check_refused(page(""), 2, {"empty"});
  check_refused(page("-"), 2, {"stdout"});
  check_refused(leastwall_program({"page"}), 2, {"file"});
}
