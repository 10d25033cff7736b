// What the built program does with wrong calls, wrong files, full disks and a user who stops it:
// one line that says what to do, the right exit status, and nothing half-written.
#include "app/small_piece.h"
#include "support/build_kind.h"

#include <algorithm>
#include <chrono>
#include <csignal>
#include <fcntl.h>
#include <nlohmann/json.hpp>
#include <sys/stat.h>
#include <unistd.h>

using namespace leastwall;
using namespace leastwall::test;

namespace {

RunResult check(std::vector<std::string> words) {
  words.insert(words.begin(), "check");
  return leastwall_program(words);
}

} // namespace

TEST_CASE("calls that are wrong: status 2 and one line that names the option") {
  const SmallPiece piece;
  const std::string pocket = piece.pocket.string(), skin = piece.skin.string();
  check_refused(leastwall_program({"carve"}), 2, {"--help"});
  check_refused(piece.check({"--no-such-option"}), 2, {"no option \"--no-such-option\"; see"});
  check_refused(piece.check({"--threads", "0"}), 2, {"--threads"});
  check_refused(piece.check({"--threads", "many"}), 2, {"--threads"});
  check_refused(piece.check({"--units", "feet"}), 2, {"--units"});
  check_refused(piece.check({"--json"}), 2, {"--json"});
  check_refused(check({"--skin", skin, "--limit", "0.8"}), 2, {"--pocket"});
  check_refused(check({"--pocket", pocket, "--limit", "0.8"}), 2, {"--skin"});
  check_refused(check({"--pocket", pocket, "--skin", skin}), 2, {"--limit"});
  for (const std::string limit :
       {"-0.8", "0", "nan", "inf", "1,250", "eight", "", "0.8cm2", "1e999"}) {
    CAPTURE(limit);
    check_refused(check({"--pocket", pocket, "--skin", skin, "--limit", limit}), 2, {"--limit"});
  }
  for (const std::string option : {"--z-zero", "--bed-flatness"})
    for (const std::string value : {"-0.1", "nan", "1/10"}) {
      CAPTURE(option);
      CAPTURE(value);
      check_refused(piece.check({option + "=" + value}), 2, {option});
    }
}

TEST_CASE("a misspelt command: the nearest one and all there are") {
  const RunResult near = leastwall_program({"chek", "gourd.toml"});
  CHECK(near.status == 2);
  CHECK(near.err ==
        "leastwall: there is no command \"chek\" (did you mean \"check\"?); the commands "
        "are check, bed, hollow, mend, pour, start, page, docs; see leastwall --help\n");
  const RunResult far = leastwall_program({"frobnicate"});
  CHECK(far.status == 2);
  CHECK(has(
      far.err,
      "no command \"frobnicate\"; the commands are check, bed, hollow, mend, pour, start, page, docs;"));
  const RunResult odd = leastwall_program({"ch\x1b[2Jeck\n"});
  CHECK(odd.status == 2);
  CHECK(odd.err.find('\x1b') == odd.err.npos);
  CHECK(std::count(odd.err.begin(), odd.err.end(), '\n') == 1);
  CHECK(has(leastwall_program({"check", "--pokcet"}).err, "see leastwall check --help"));
}

TEST_CASE("files that are wrong: status 2 and one line that names the file") {
  const SmallPiece piece;
  const TempDir folder;
  const std::string skin = piece.skin.string();
  const auto with = [&](const std::filesystem::path& pocket) {
    return check({"--pocket", pocket.string(), "--skin", skin, "--limit", "0.8"});
  };
  check_refused(with(folder.path() / "absent.stl"), 2, {"absent.stl"});
  check_refused(with(folder.path()), 2, {folder.path().string()});
  check_refused(with(folder.file("empty.stl", "")), 2, {"empty.stl"});
  check_refused(with(folder.file("noise.stl", std::string(300, '\x7f'))), 2, {"noise.stl"});
  check_refused(with(folder.file("cut.stl", file_text(piece.pocket).substr(0, 200))), 2,
                {"cut.stl"});
  check_refused(with(folder.file("words.txt", "a pocket, please")), 2, {"words.txt"});
  check_refused(check({(folder.path() / "absent.toml").string()}), 2, {"absent.toml"});
}

TEST_CASE("outputs that cannot be written: status 2 before the work, old files stay") {
  const SmallPiece piece;
  const std::filesystem::path absent = piece.folder.path() / "no folder" / "result.json";
  check_refused(piece.check({"--json", absent.string()}), 2, {"result.json"});
  check_refused(piece.check({"--json", piece.folder.path().string()}), 2, {"folder"});
  check_refused(piece.check({"--heatmap", "/proc/map.png"}), 2, {"map.png"});
  CHECK(piece.left().empty());
  if (::geteuid() != 0) {
    const std::filesystem::path locked = piece.folder.path() / "locked";
    std::filesystem::create_directory(locked);
    std::filesystem::permissions(locked, std::filesystem::perms::owner_read |
                                             std::filesystem::perms::owner_exec);
    check_refused(piece.check({"--json", (locked / "result.json").string()}), 2, {"result.json"});
    CHECK(names_in(locked).empty());
  }
}

TEST_CASE("an existing result is replaced whole, and kept when the run fails") {
  const SmallPiece piece;
  const std::filesystem::path json = piece.folder.file("result.json", "old result");
  const std::filesystem::path map = piece.folder.file("map.png", "old picture");
  const std::vector<std::string> outputs = {"--json", json.string(), "--heatmap", map.string()};
  const std::vector<std::string> names = {"map.png", "result.json"};
  // The pocket lies beside the skin's file name but is no mesh: refused after reading.
  const std::filesystem::path noise = piece.folder.file("noise.stl", "solid\nfacet");
  RunResult r =
      leastwall_program({"check", "--pocket", noise.string(), "--skin", piece.skin.string(),
                         "--limit", "0.8", "--json", json.string(), "--heatmap", map.string()});
  CHECK(r.status == 2);
  // The second output cannot be opened: the first stays.
  r = piece.check({"--json", json.string(), "--heatmap", "/proc/map.png"});
  CHECK(r.status == 2);
  // A pocket face under all facets leaves nothing to measure: refused with both outputs open.
  std::vector<std::string> deep = outputs;
  deep.insert(deep.end(), {"--top-z", "-500"});
  check_refused(piece.check(deep), 2, {"-500"});
  std::filesystem::remove(noise);
  CHECK(file_text(json) == "old result");
  CHECK(file_text(map) == "old picture");
  CHECK(piece.left() == names);
  r = piece.check(outputs);
  CHECK(r.status == 0);
  CHECK(nlohmann::json::parse(file_text(json))["verdict"] == "safe");
  CHECK(file_text(map).substr(1, 3) == "PNG");
  CHECK(piece.left() == names);
}

TEST_CASE("an output never takes the place of an input or of another output") {
  const SmallPiece piece;
  const std::string before = file_text(piece.pocket);
  check_refused(piece.check({"--json", piece.pocket.string()}), 2, {"--json", "is read"});
  check_refused(piece.check({"--heatmap", piece.skin.string()}), 2, {"--heatmap", "is read"});
  CHECK(file_text(piece.pocket) == before);
  const std::string same = (piece.folder.path() / "same.out").string();
  check_refused(piece.check({"--json", same, "--heatmap", same}), 2, {"--heatmap", "written by"});
  check_refused(piece.check({"--heatmap", "-"}), 2, {"--heatmap"});
  CHECK(piece.left().empty());
}

TEST_CASE("a pipe is written to and stays a pipe; a link stays a link to the new file") {
  const SmallPiece piece;
  const std::filesystem::path pipe = piece.folder.path() / "pipe";
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  const int reader = ::open(pipe.c_str(), O_RDWR | O_NONBLOCK); // so that no side has to wait
  REQUIRE(reader >= 0);
  CHECK(piece.check({"--json", pipe.string()}).status == 0);
  CHECK(std::filesystem::is_fifo(pipe));
  std::string text(1 << 16, '\0');
  const ssize_t n = ::read(reader, text.data(), text.size());
  ::close(reader);
  REQUIRE(n > 0);
  text.resize(static_cast<std::size_t>(n));
  CHECK(nlohmann::json::parse(text)["verdict"] == "safe");

  const std::filesystem::path real = piece.folder.file("real.json", "old"),
                              link = piece.folder.path() / "link.json";
  std::filesystem::create_symlink(real, link);
  CHECK(piece.check({"--json", link.string()}).status == 0);
  CHECK(std::filesystem::is_symlink(link));
  CHECK(nlohmann::json::parse(file_text(real))["verdict"] == "safe");
}

TEST_CASE("stdout that is closed or full: status 3") {
  const SmallPiece piece;
  for (const std::string where : {"/dev/full", "closed"}) {
    CAPTURE(where);
    for (const std::vector<std::string>& more :
         {std::vector<std::string>{}, std::vector<std::string>{"--json", "-"}}) {
      const RunResult r = piece.check(more, {.stdout_to = where});
      CHECK(r.status == 3);
      CHECK(std::count(r.err.begin(), r.err.end(), '\n') == 1);
      CHECK(has(r.err, "standard output"));
    }
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"--help"}, {"--version"}, {"docs", "man"}, {"docs", "bash"}}) {
      CAPTURE(words[0]);
      CHECK(leastwall_program(words, {.stdout_to = where}).status == 3);
    }
  }
}

TEST_CASE("a cancelled run ends within about a second, status 3, and leaves nothing") {
  // Two flats 0.7 mm apart over 0.4 x 0.4 m: few facets, but all of it has to be measured finely.
  const TempDir folder;
  const auto flat = [](double z) {
    return shapes::sheet({-200, 200}, {-200, 200}, 2, 2, [z](double, double) { return z; });
  };
  const std::string pocket = folder.file("a.stl", binary_stl(flat(-4.3))).string();
  const std::string skin = folder.file("b.stl", binary_stl(flat(-5))).string();
  const std::filesystem::path json = folder.path() / "r.json", map = folder.path() / "m.png";
  const std::vector<std::string> words{"check",       "--pocket",  pocket,      "--skin", skin,
                                       "--limit",     "0.8",       "--z-zero",  "0.05",   "--json",
                                       json.string(), "--heatmap", map.string()};
  // How long a whole run takes depends on the machine: the signals come at shares of it.
  const auto begun = std::chrono::steady_clock::now();
  REQUIRE(leastwall_program(words).status == 1);
  const double whole_s =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
  std::filesystem::remove(json);
  std::filesystem::remove(map);
  std::size_t cancelled = 0;
  for (const double share : {0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85}) {
    CAPTURE(share);
    CAPTURE(whole_s);
    const RunResult r = leastwall_program(words, {.signal_after_s = share * whole_s});
    if (r.status == -SIGTERM) // a busy machine had not even started it
      continue;
    if (r.status == 1) { // it was done before the signal came
      std::filesystem::remove(json);
      std::filesystem::remove(map);
      continue;
    }
    INFO(r.err);
    CHECK(r.status == 3);
    CHECK(r.out.empty());
    CHECK(std::count(r.err.begin(), r.err.end(), '\n') == 1);
    CHECK(r.seconds_after_signal < by_build(2.0, 20.0));
    CHECK(names_in(folder.path()) == std::vector<std::string>{"a.stl", "b.stl"});
    ++cancelled;
  }
  CHECK(cancelled >= 2);
}
