// A check that would not fit into memory says so before it begins: status 3, one line, no files.
#include "app/small_piece.h"

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

TEST_CASE("--memory-limit: what is no amount of memory is refused") {
  const SmallPiece piece;
  for (const std::string size :
       {"", "much", "-1GB", "0GB", "nanGB", "infGB", "4", "4 ells", "1,5GB", "1e30GB", "GB"}) {
    CAPTURE(size);
    check_refused(piece.check({"--memory-limit=" + size}), 2, {"--memory-limit"});
  }
}
