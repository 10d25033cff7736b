// `leastwall hollow` as a user runs it.
#include "app/small_piece.h"

#include <fstream>
#include <thread>

using namespace leastwall;
using namespace leastwall::test;

namespace {

/// A block and a job that names a pocket still to be made.
struct Block {
  TempDir folder;
  Block() {
    folder.file("skin.stl", binary_stl(shapes::box({-20, -15, -12}, {20, 15, 0})));
    folder.file("job.toml",
                "units = \"mm\"\nlimit = 0.6\ntrials = 1000\n[board]\nthickness = 12\n"
                "[side_a]\nzero = \"top\"\ntouch_off = 0.03\nbit = {ball_radius = 2}\n"
                "[side_b]\nzero = \"bed\"\ntouch_off = 0.03\n[[part]]\nskin = \"skin.stl\"\n"
                "[[part.pocket]]\nname = \"room\"\nmesh = \"made.stl\"\n");
  }
  std::string path(const std::string& name) const { return (folder.path() / name).string(); }
  RunResult hollow(std::vector<std::string> more) const {
    more.insert(more.begin(), {"hollow", path("job.toml")});
    return leastwall_program(more);
  }
};

} // namespace

TEST_CASE("hollow writes the pocket that the job names, and check calls that job safe") {
  const Block block;
  check_refused(leastwall_program({"check", block.path("job.toml")}), 2, {"made.stl"});
  const RunResult made = block.hollow({"--to", block.path("made.stl")});
  INFO(made.err);
  CHECK(made.status == 0);
  CHECK(made.out.starts_with("MADE: "));
  const RunResult checked = leastwall_program({"check", block.path("job.toml"), "--quiet"});
  INFO(checked.err);
  CHECK(checked.status == 0);
  CHECK(names_in(block.folder.path()) ==
        std::vector<std::string>{"job.toml", "made.stl", "skin.stl"});
  // The same bytes again, on one thread.
  CHECK(block.hollow({"--to", block.path("again.stl"), "--threads", "1", "--quiet"}).out.empty());
  CHECK(file_text(block.path("again.stl")) == file_text(block.path("made.stl")));
}

TEST_CASE("hollow never writes over a file, and leaves nothing behind where no pocket holds") {
  const Block block;
  block.folder.file("made.stl", "by hand");
  check_refused(block.hollow({"--to", block.path("made.stl")}), 2, {"made.stl"});
  CHECK(file_text(block.path("made.stl")) == "by hand");
  block.folder.file("other.stl", "by hand, too");
  check_refused(block.hollow({"--to", block.path("other.stl")}), 2, {"exists already"});
  CHECK(file_text(block.path("other.stl")) == "by hand, too");
  const RunResult thin = block.hollow({"--to", block.path("thin.stl"), "--wall", "0.3"});
  CHECK(thin.status == 1);
  CHECK(thin.out.starts_with("NO POCKET WAS WRITTEN\n"));
  CHECK(names_in(block.folder.path()) ==
        std::vector<std::string>{"job.toml", "made.stl", "other.stl", "skin.stl"});
}

TEST_CASE("calls of hollow that are wrong: status 2 and one line") {
  const Block block;
  check_refused(leastwall_program({"hollow", block.path("job.toml")}), 2, {"--to"});
  check_refused(leastwall_program({"hollow", "--to", block.path("x.stl")}), 2, {"job"});
  check_refused(block.hollow({"--to", "-"}), 2, {"--to"});
  check_refused(block.hollow({"--to", block.path("x.json")}), 2, {".stl"});
  check_refused(block.hollow({"--to", block.path("x.stl"), "--wall", "0"}), 2, {"--wall"});
  check_refused(block.hollow({"--to", block.path("x.stl"), "--depth", "-1"}), 2, {"--depth"});
  check_refused(block.hollow({"--to", block.path("no/x.stl")}), 2, {"no"});
}

TEST_CASE("a file that appears while hollow works is left as it is") {
  const Block block;
  // A name that is taken between opening and placing: another run that is done first.
  RunResult slow;
  std::thread first([&] {
    slow = block.hollow({"--to", block.path("made.stl"), "--threads", "1"});
  });
  const RunResult quick = block.hollow({"--to", block.path("made.stl"), "--threads", "1"});
  first.join();
  // One of them wrote it, the other one says so; or one had ended before the other began.
  CHECK(quick.status + slow.status == 2);
  CHECK(has(quick.err + slow.err, "exists already and is left as it is"));
  CHECK(names_in(block.folder.path()) ==
        std::vector<std::string>{"job.toml", "made.stl", "skin.stl"});
}
