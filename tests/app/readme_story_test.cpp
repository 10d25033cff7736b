// README's way from two meshes to a safe job: every command is run as it is printed, every line of
// output that it shows is there, and every change of the job is made as it says.
#include "support/run_program.h"
#include "support/temp_dir.h"

#include <doctest/doctest.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <sstream>

using namespace leastwall;
using namespace leastwall::test;

namespace {

constexpr const char* kTitle = "## From two meshes to a safe job, in ten steps\n";

std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream in(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);)
    lines.push_back(line);
  return lines;
}

std::string story() {
  const std::string text = file_text(std::filesystem::path(LEASTWALL_SOURCE_DIR) / "README.md");
  const std::size_t begin = text.find(kTitle);
  REQUIRE(begin != text.npos);
  const std::size_t from = begin + std::string(kTitle).size();
  return text.substr(from, text.find("\n## ", from) - from);
}

/// "key" of a line `key = value`.
std::string key_of(const std::string& line) {
  return line.substr(0, line.find(' '));
}

/// Puts the lines `[table]`, `key = value` and `# key = value` (which goes) into the job: each line
/// takes the place of that key in the table, or stands below the table's name.
std::string with_changes(const std::string& job, const std::vector<std::string>& changes) {
  std::vector<std::string> lines = lines_of(job);
  std::string table;
  for (const std::string& change : changes) {
    if (change.rfind('[', 0) == 0) {
      table = change;
      continue;
    }
    const bool goes = change.rfind("# ", 0) == 0;
    const std::string key = key_of(goes ? change.substr(2) : change);
    const auto begin = std::find(lines.begin(), lines.end(), table);
    REQUIRE(begin != lines.end());
    const auto end = std::find_if(begin + 1, lines.end(),
                                  [](const std::string& line) { return line.rfind('[', 0) == 0; });
    const auto there =
        std::find_if(begin + 1, end, [&](const std::string& line) { return key_of(line) == key; });
    if (there != end) {
      *there = change;
    } else {
      REQUIRE(!goes);
      lines.insert(begin + 1, change);
    }
  }
  std::string text;
  for (const std::string& line : lines)
    text += line + "\n";
  return text;
}

} // namespace

TEST_CASE("readme: the ten steps from two meshes to a safe job run as printed") {
  const TempDir folder;
  for (const char* name : {"meshes", "tests"})
    std::filesystem::create_directory_symlink(std::filesystem::path(LEASTWALL_SOURCE_DIR) / name,
                                              folder.path() / name);
  const std::string job = (folder.path() / "my-lantern" / "gourd.toml").string();
  const std::string go = "cd '" + folder.path().string() + "' && PATH='" +
                         std::string(LEASTWALL_BUILD_DIR) + "':$PATH && ";
  std::string out;
  std::vector<std::string> changes;
  bool in_changes = false;
  int commands = 0, shown = 0, made = 0, steps = 0;
  for (const std::string& line : lines_of(story())) {
    CAPTURE(line);
    if (line.rfind("**", 0) == 0)
      CHECK(line.rfind("**" + std::to_string(++steps) + ". ", 0) == 0);
    if (line.rfind("```", 0) == 0) {
      in_changes = !in_changes;
      if (!in_changes) {
        const std::string text = with_changes(file_text(job), changes);
        std::ofstream(job, std::ios::binary) << text;
        changes.clear();
        ++made;
      }
    } else if (in_changes) {
      changes.push_back(line);
    } else if (line.rfind("    leastwall ", 0) == 0) {
      const RunResult r = run_program({"bash", "-c", go + line.substr(4)});
      CAPTURE(r.err);
      CHECK(r.status <= 1);
      CHECK(r.err.empty());
      out = fmt::format("\n{}", r.out);
      ++commands;
    } else if (line.rfind("    ", 0) == 0) {
      INFO(out);
      CHECK(out.find(fmt::format("\n{}\n", line.substr(4))) != out.npos);
      ++shown;
    }
  }
  CHECK(steps == 10);
  CHECK(commands == 7);
  CHECK(shown == 10);
  CHECK(made == 2);
  for (const char* name :
       {"first/report.html", "first/section.png", "bed.png", "lantern.pdf", "pour.png"})
    CHECK(std::filesystem::file_size(folder.path() / name) > 1000);
}
