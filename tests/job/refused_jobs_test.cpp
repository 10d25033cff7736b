// Every file in tests/data/jobs/refused must be refused with the line and the message that its own
// first line states.
#include "base/errors.h"
#include "job/read_job.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <string>
#include <vector>

using namespace leastwall;
namespace fs = std::filesystem;

namespace {

std::string refusal(const fs::path& file) {
  try {
    read_job(file);
  } catch (const InputError& error) {
    return error.what();
  }
  return "accepted";
}

} // namespace

TEST_CASE("each refused job names the file, the line, what is wrong and what to do") {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(LEASTWALL_SOURCE_DIR "/tests/data/jobs/refused"))
    files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  REQUIRE(files.size() > 100);
  for (const fs::path& file : files) {
    CAPTURE(file);
    std::ifstream in(file);
    std::string first;
    std::getline(in, first);
    const std::string start = "# refused at line ";
    REQUIRE(first.starts_with(start));
    const std::string expected = fmt::format("{}:{}", file.string(), first.substr(start.size()));
    const std::string message = refusal(file);
    if (first.ends_with("(") ||
        first.ends_with(": ")) // the parser's or a table of the trade goes on
      CHECK(message.substr(0, expected.size()) == expected);
    else
      CHECK(message == expected);
    CHECK(message.find('\n') == std::string::npos);
  }
}

TEST_CASE("a job that is not there, or is a folder") {
  CHECK(refusal("no/such/job.toml") ==
        "no/such/job.toml: there is no such file; name the job file, or write a sample with "
        "`leastwall start`");
  const std::string folder = LEASTWALL_SOURCE_DIR "/tests/data/jobs";
  CHECK(refusal(folder) == folder + ": is a folder; name the job file in it");
}

TEST_CASE("names that try to break a message out of its line are shown harmless") {
  try {
    parse_job("\"a\\nb\\u0007\" = 1\n",
              {.name = "j\n.toml", .folder = "", .files_must_exist = false});
    FAIL("accepted");
  } catch (const InputError& error) {
    CHECK(std::string(error.what()).starts_with("j?.toml:1: unknown key \"a?b?\" at the top"));
  }
  try {
    parse_job("title = \"" + std::string(300, 'x') + "\"\nunits = \"" + std::string(300, 'y') +
                  "\"\n",
              {.name = "j.toml", .folder = "", .files_must_exist = false});
    FAIL("accepted");
  } catch (const InputError& error) {
    CHECK(std::string(error.what()).size() < 200);
  }
}
