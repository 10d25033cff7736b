// A check that would not fit into memory says so before it begins: status 3, one line, no files.
#include "app/small_piece.h"
#include "support/build_kind.h"

#include <cmath>
#include <regex>

using namespace leastwall;
using namespace leastwall::test;

TEST_CASE("--memory-limit: a piece that does not fit, with the size that would") {
  const TempDir folder;
  const auto sheet = [](double z) {
    return binary_stl(sheet_mesh(160, 40, [z](double, double) { return z; }));
  };
  const std::string pocket = folder.file("a.stl", sheet(-4)).string();
  const std::string skin = folder.file("b.stl", sheet(-9)).string();
  const std::string json = (folder.path() / "r.json").string();
  const auto with = [&](const std::string& limit) {
    return leastwall_program({"check", "--pocket", pocket, "--skin", skin, "--limit", "0.8",
                              "--json", json, "--memory-limit", limit});
  };
  RunResult r = with("70MB");
  check_refused(r, 3, {"102400 triangles", "70 MB", "--memory-limit", "would fit"});
  CHECK(names_in(folder.path()) == std::vector<std::string>{"a.stl", "b.stl"});
  // What is named as fitting is fewer than were given, and a limit over the need is enough.
  std::smatch named;
  REQUIRE(std::regex_search(r.err, named,
                            std::regex("need about ([0-9]+) MB.*meshes of ([0-9]+) triangles")));
  CHECK(std::stoul(named[2]) > 0);
  CHECK(std::stoul(named[2]) < 102400);
  CHECK(with(named[1].str() + "MB").status == 0);
  check_refused(with("1 MiB"), 3, {"no mesh would fit"});
  CHECK(with("4G").status == 0);
}

// 2 GB of holes: the size alone says how many facets, and nothing is read for the answer.
TEST_CASE("--memory-limit: a file too large is refused before it is read") {
  const SmallPiece piece;
  const std::uint32_t facets = 40'000'000;
  std::string header(80, ' ');
  append_raw(header, facets);
  const std::filesystem::path huge = piece.folder.file("huge.stl", header);
  std::filesystem::resize_file(huge, 84 + std::uint64_t{50} * facets);
  const RunResult r =
      leastwall_program({"check", "--pocket", huge.string(), "--skin", piece.skin.string(),
                         "--limit", "0.8", "--memory-limit", "4GB"});
  check_refused(r, 3, {"triangles", "--memory-limit", "would fit"});
  CHECK(r.seconds < 10);
}

// Peak resident memory by getrusage(2): the estimate is never under it, and over 1.5 times
// it by no more than a library that is loaded when needed. First the files tell, then the places
// that will be measured finely; how many of them are flat and need no more samples is not known
// before they are measured.
TEST_CASE("--memory-limit: the estimate lies just over what a check takes") {
  const TempDir folder;
  struct Piece {
    std::uint32_t cells;
    double wall_mm;
    std::vector<std::string> outputs;
  };
  const std::string picture = (folder.path() / "h.png").string();
  const std::string out = (folder.path() / "out").string();
  for (const Piece& piece : {Piece{220, 5, {}},
                             {500, 5, {}},
                             {30, 0.9, {}},
                             {120, 5, {"--heatmap", picture}},
                             {120, 5, {"--out", out}},
                             {60, 0.9, {"--out", out}}}) {
    CAPTURE(piece.cells);
    CAPTURE(piece.wall_mm);
    CAPTURE(piece.outputs.size());
    const auto sheet = [&](double z) {
      return binary_stl(sheet_mesh(piece.cells, 80, [z](double x, double y) {
        return z + 0.3 * std::sin(0.3 * x) * std::cos(0.2 * y);
      }));
    };
    const std::string pocket = folder.file("a.stl", sheet(-4)).string();
    const std::string skin = folder.file("b.stl", sheet(-4 - piece.wall_mm)).string();
    const auto with = [&](std::vector<std::string> more) {
      more.insert(more.begin(), {"check", "--pocket", pocket, "--skin", skin, "--limit", "0.8"});
      more.insert(more.end(), piece.outputs.begin(), piece.outputs.end());
      return leastwall_program(more);
    };
    int need_mb = 1;
    for (const char* told_by : {"files", "places measured finely"}) {
      CAPTURE(told_by);
      const RunResult asked = with({"--memory-limit", std::to_string(need_mb) + "MB"});
      std::smatch named;
      if (std::regex_search(asked.err, named, std::regex("need about ([0-9]+) MB")))
        need_mb = std::stoi(named[1]);
      CHECK(asked.status == (named.empty() ? 0 : 3));
    }
    const double estimate = need_mb * 1e6;
    const RunResult run = with({});
    CHECK(run.status == 0);
    if (kSanitized)
      continue; // the sanitizer's own memory would count
    const double taken = run.peak_kib * 1024.0;
    CHECK(taken > 10e6);
    CHECK(estimate >= taken);
    CHECK(estimate <= (piece.wall_mm < 1 ? 2.7 : 1.5) * taken + 40e6);
  }
}

// The largest number of trials that is read is also run, and its memory is asked for beforehand.
TEST_CASE("--memory-limit: the draws of a million trials are part of the estimate") {
  const SmallPiece piece;
  const auto job = [&](std::uint64_t trials) {
    return piece.folder
        .file("job.toml", "limit = 0.8\ntrials = " + std::to_string(trials) + R"(
[board]
thickness = 20
thickness_error = 0.05
corner = [-40, -30]
size = [80, 60]
pocket_face_z = 0
[side_a]
zero = "top"
touch_off = 0.05
[side_a.bit]
tip_height = 0.01
[side_b]
zero = "top"
touch_off = 0.05
[bed]
flatness = 0.1
[[part]]
skin = "skin.stl"
[part.placing]
units = "mm"
[[part.pocket]]
mesh = "pocket.stl"
)")
        .string();
  };
  const auto need_mb = [&](std::uint64_t trials) {
    const RunResult r = leastwall_program({"check", job(trials), "--memory-limit", "5MB"});
    check_refused(r, 3, {"would fit"});
    std::smatch named;
    REQUIRE(std::regex_search(r.err, named, std::regex("need about ([0-9]+) MB")));
    return std::stoi(named[1]);
  };
  const int few = need_mb(1000), many = need_mb(1'000'000);
  CHECK(many - few > 6 * 8); // six errors, a double each
  check_refused(leastwall_program({"check", job(1'000'000), "--memory-limit", "60MB"}), 3,
                {"the trials alone take", "fewer trials"});
  check_refused(leastwall_program({"check", job(1'000'001)}), 2,
                {"job.toml:2: trials = 1000001", "100 to 1000000"});
  const RunResult run = leastwall_program({"check", job(1'000'000), "--quiet"});
  CHECK(run.status == 0);
  if (!kSanitized)
    CHECK(many * 1e6 >= run.peak_kib * 1024.0);
}

TEST_CASE("--memory-limit: what is no amount of memory is refused") {
  const SmallPiece piece;
  for (const std::string size :
       {"", "much", "-1GB", "0GB", "nanGB", "infGB", "4", "4 ells", "1,5GB", "1e30GB", "GB"}) {
    CAPTURE(size);
    check_refused(piece.check({"--memory-limit=" + size}), 2, {"--memory-limit"});
  }
}
