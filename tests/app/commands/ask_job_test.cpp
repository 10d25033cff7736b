// `leastwall start --ask` with answers that come through a pipe.
#include "app/small_piece.h"
#include "support/run_program.h"
#include "support/temp_dir.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>

using namespace leastwall::test;

namespace {

namespace fs = std::filesystem;

struct Shop {
  SmallPiece piece{2};
  TempDir folder;

  /// Runs `start job --ask` with these words more; standard input is what `answers` holds.
  RunResult ask(const std::string& answers, const std::string& words) const {
    std::ofstream(folder.path() / "answers", std::ios::binary) << answers;
    RunOptions options;
    options.working_folder = folder.path();
    return run_program({"sh", "-c",
                        fmt::format("exec '{}' start job --ask {} < answers",
                                    LEASTWALL_BUILD_DIR "/leastwall", words)},
                       options);
  }
  RunResult ask(const std::string& answers) const {
    return ask(answers, fmt::format("--pocket '{}' --skin '{}'", piece.pocket.string(),
                                    piece.skin.string()));
  }
  bool wrote_nothing() const { return !fs::exists(folder.path() / "job"); }
};

/// Unit, then sixteen questions.
const std::string kAnswers = "mm\n0.8\n\n20\n0.1\ntop\n\n0.05\n0.1\n\ndowels\n0.02\n100\nbed\n\n"
                             "0.05\n\n";

} // namespace

TEST_CASE("start --ask: answers through a pipe make a job that checks") {
  const Shop shop;
  const RunResult made = shop.ask(kAnswers);
  CAPTURE(made.out);
  CAPTURE(made.err);
  REQUIRE(made.status == 0);
  CHECK(names_in(shop.folder.path() / "job") == std::vector<std::string>{"piece.toml"});
  CHECK(has(made.out, "1 of 16: Thinnest wall you accept\n"));
  CHECK(has(made.out, "16 of 16: Wood that sanding takes off the skin\n"));
  CHECK(has(made.out, "[along y]"));
  CHECK(has(made.out, "Wrote job/piece.toml. Next:\n  leastwall check job/piece.toml\n"));
  const RunResult checked = leastwall_program(
      {"check", (shop.folder.path() / "job" / "piece.toml").string(), "--json", "-"});
  CHECK(checked.status == 0);
  CHECK(has(checked.out, "\"limit_mm\": 0.8"));
}

TEST_CASE("start --ask: a wrong answer says why and is asked again") {
  const Shop shop;
  std::string answers = kAnswers;
  answers.replace(answers.find("0.8\n"), 4, "thick\n\n-3\n0.8\n");
  const RunResult made = shop.ask("yards\n" + answers);
  CAPTURE(made.out);
  CHECK(made.status == 0);
  CHECK(has(made.out, "  ! mm or inch\n"));
  CHECK(has(made.out, "  ! this must be stated\n"));
}

TEST_CASE("start --ask: answers that end, or never end, write nothing") {
  const Shop shop;
  for (const std::string& answers :
       {std::string(), std::string("mm\n0.8\n"), kAnswers.substr(0, kAnswers.size() - 1),
        "mm\n" + std::string(5000, '9')}) {
    const RunResult r = shop.ask(answers);
    CAPTURE(answers);
    CHECK(r.status == 2);
    CHECK(shop.wrote_nothing());
    CHECK(std::count(r.err.begin(), r.err.end(), '\n') == 1);
  }
  std::string wrong = "mm\n";
  for (int i = 0; i < 1000; ++i)
    wrong += "no\n";
  const RunResult r = shop.ask(wrong);
  CHECK(r.status == 2);
  CHECK(has(r.err, "20 answers to one question could not be used"));
  CHECK(shop.wrote_nothing());
}

TEST_CASE("start --ask: meshes that are not there, and what it does not go with") {
  const Shop shop;
  CHECK(has(shop.ask(kAnswers, "--pocket gone.stl").err, "gone.stl: there is no such file"));
  CHECK(shop.ask(kAnswers, "--pocket gone.stl").status == 2);
  // Asked for, the name can be mended.
  const RunResult r = shop.ask(fmt::format("gone.stl\n{}\n{}\n{}", shop.piece.pocket.string(),
                                           shop.piece.skin.string(), kAnswers),
                               "");
  CHECK(r.status == 0);
  CHECK(has(r.out, "gone.stl: there is no such file"));
  CHECK(shop.ask(kAnswers).status == 2); // the job is there now
  CHECK(has(shop.ask(kAnswers).err, "exists already"));
  CHECK(shop.ask(kAnswers, "--piece leaf").status == 2);
  CHECK(
      leastwall_program({"start", (shop.folder.path() / "x").string(), "--skin", "a.stl"}).status ==
      2);
}

TEST_CASE("start --ask: a job that somebody else writes while the questions are asked is kept") {
  const Shop shop;
  const fs::path folder = shop.folder.path();
  std::ofstream(folder / "answers", std::ios::binary) << kAnswers;
  RunOptions options;
  options.working_folder = folder;
  const RunResult run = run_program(
      {"sh", "-c",
       fmt::format("(head -n 8 answers; sleep 1; mkdir job; echo mine > job/piece.toml; "
                   "tail -n +9 answers) | '{}' start job --ask --pocket '{}' --skin '{}'",
                   LEASTWALL_BUILD_DIR "/leastwall", shop.piece.pocket.string(),
                   shop.piece.skin.string())},
      options);
  CHECK(run.status == 2);
  CHECK(file_text(folder / "job" / "piece.toml") == "mine\n");
  CHECK(has(run.err, "piece.toml"));
}
