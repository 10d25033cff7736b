// `leastwall pour` as a user runs it.
#include "app/small_piece.h"

#include <nlohmann/json.hpp>

using namespace leastwall;
using namespace leastwall::test;

namespace {

/// A block with a pocket of 30 x 20 x 9 mm.
struct Block {
  TempDir folder;
  explicit Block(const std::string& more = "") {
    folder.file("skin.stl", binary_stl(shapes::box({-20, -15, -12}, {20, 15, 0})));
    folder.file("room.stl", binary_stl(shapes::box({-15, -10, -9}, {15, 10, 0})));
    folder.file("job.toml",
                "units = \"mm\"\nlimit = 0.6\ntrials = 1000\n[board]\nthickness = 12\n"
                "[side_a]\nzero = \"top\"\ntouch_off = 0.03\n"
                "[side_b]\nzero = \"bed\"\ntouch_off = 0.03\n[[part]]\nskin = \"skin.stl\"\n"
                "[[part.pocket]]\nname = \"room\"\nmesh = \"room.stl\"\n" +
                    more);
  }
  std::string path(const std::string& name) const { return (folder.path() / name).string(); }
  RunResult pour(std::vector<std::string> more) const {
    more.insert(more.begin(), {"pour", path("job.toml")});
    return leastwall_program(more);
  }
};

const std::string kResin = "[part.pocket.resin]\nratio = \"2:1\"\nratio_by = \"volume\"\n"
                           "deepest_lift = 5\nhours_between_lifts = 24\nhours_until_cut = 72\n";

} // namespace

TEST_CASE("pour says how much, writes JSON and picture, and answers 0 where all is told") {
  const Block block(kResin);
  const RunResult said = block.pour({"--picture", block.path("pour.png"), "--json",
                                     block.path("pour.json"), "--start", "2026-03-14 18:00"});
  INFO(said.err);
  CHECK(said.status == 0);
  CHECK(has(said.out, "Holds 5.40 ml up to the pocket face"));
  CHECK(has(said.out, "Sun 15 Mar 18:00"));
  CHECK(has(said.out, "Read the resin's data sheet"));
  CHECK(has(said.out, "never a guarantee"));
  CHECK(file_text(block.path("pour.png")).starts_with("\x89PNG"));
  const auto json = nlohmann::json::parse(file_text(block.path("pour.json")));
  CHECK(json["pockets"][0]["volume_ml"] == 5.4);
  CHECK(json["side_b"]["at"] == "2026-03-18T18:00");
  const RunResult out = block.pour({"--json", "-", "--start", "2026-03-14 18:00"});
  CHECK(out.out == file_text(block.path("pour.json")));
  CHECK(block.pour({"--quiet"}).out.empty());
  CHECK(has(block.pour({"--inches"}).out, "0.18 fl oz (5.40 ml)"));
  // The job's own times and tilt give way to those of the call.
  const RunResult tilted = block.pour({"--tilt", "10 mm/m", "--tilt-towards", "0"});
  CHECK(has(tilted.out, "ends 0.30 mm"));
}

TEST_CASE("a mesh that tells no volume: status 1, and the text says why") {
  const Block block;
  block.folder.file("room.stl",
                    binary_stl(shapes::joined(shapes::box({-15, -10, -9}, {0, 10, 0}),
                                              shapes::box({-5, -10, -9}, {15, 10, 0}))));
  const RunResult said = block.pour({});
  INFO(said.err);
  CHECK(said.status == 1);
  CHECK(has(said.out, "its volume is not told"));
  CHECK_FALSE(has(said.out, "Mix "));
}

TEST_CASE("calls of pour that are wrong: status 2 and one line") {
  const Block block(kResin);
  check_refused(leastwall_program({"pour"}), 2, {"job"});
  check_refused(leastwall_program({"pour", block.path("none.toml")}), 2, {"none.toml"});
  check_refused(block.pour({"--start", "tomorrow"}), 2, {"--start", "2026-03-14 18:00"});
  check_refused(block.pour({"--start", "2026-02-30 18:00"}), 2, {"--start"});
  check_refused(block.pour({"--tilt", "2"}), 2, {"--tilt", "mm/m"});
  check_refused(block.pour({"--tilt", "60 deg"}), 2, {"--tilt"});
  check_refused(block.pour({"--tilt-towards", "90"}), 2, {"--tilt-towards", "--tilt"});
  check_refused(block.pour({"--tilt", "1 mm/m", "--tilt-towards", "900"}), 2, {"--tilt-towards"});
  check_refused(block.pour({"--thin-wall", "0"}), 2, {"--thin-wall"});
  check_refused(block.pour({"--thin-wall", "-1"}), 2, {"--thin-wall"});
  check_refused(block.pour({"--picture", block.path("x.pdf")}), 2, {".png"});
  check_refused(block.pour({"--json", block.path("job.toml")}), 2, {"job.toml"});
  check_refused(block.pour({"--picture", block.path("no/x.png")}), 2, {"no"});
  CHECK(names_in(block.folder.path()) ==
        std::vector<std::string>{"job.toml", "room.stl", "skin.stl"});
}

TEST_CASE("the setup sheet of a job with resin has a page for it between A and B") {
  const Block block(kResin), plain;
  const auto pages = [](const Block& b) {
    const RunResult r =
        leastwall_program({"check", b.path("job.toml"), "--sheet", b.path("sheet.pdf"), "--quiet"});
    INFO(r.err);
    CHECK(r.status <= 1);
    const RunResult text = run_program({"pdftotext", "-layout", b.path("sheet.pdf"), "-"});
    std::vector<std::string> out(1);
    for (const char c : text.out)
      if (c == '\f')
        out.emplace_back();
      else
        out.back() += c;
    return out;
  };
  const std::vector<std::string> with = pages(block), without = pages(plain);
  CHECK(with.size() == without.size() + 1);
  CHECK(has(with[0], "POCKET FACE UP"));
  CHECK(has(with[1], "RESIN 1 OF 1: POUR, LET IT CURE"));
  CHECK(has(with[1], "poured (day, time)"));
  CHECK(has(with[2], "SKIN FACE UP"));
  for (const std::string& page : without)
    CHECK_FALSE(has(page, "RESIN 1 OF 1"));
}
