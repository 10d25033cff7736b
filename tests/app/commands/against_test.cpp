// `leastwall check --against`.
#include "app/small_piece.h"
#include "support/run_program.h"
#include "support/temp_dir.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

using namespace leastwall::test;
using Json = nlohmann::ordered_json;

TEST_CASE("check --against: before and after, in text and JSON; the earlier file stays") {
  const SmallPiece piece(2), thinner(0.7);
  const TempDir folder;
  const std::string was = (folder.path() / "was.json").string(),
                    now = (folder.path() / "now.json").string();
  CHECK(piece.check({"--json", was}).status == 0);
  const std::string bytes = file_text(was);
  const RunResult r = thinner.check({"--against", was, "--json", now});
  CHECK(r.status == 1);
  CHECK(has(r.out, "Against "));
  CHECK(has(r.out, "Meshes, before and now:"));
  const Json json = Json::parse(file_text(now));
  CHECK(json["against"]["job"]["verdict"]["before"] == "safe");
  CHECK(json["against"]["job"]["verdict"]["after"] == json["verdict"]);
  CHECK(json["against"]["job"]["worst_mm"]["after"] == json["least_wall"]["worst_mm"]);
  CHECK(json["against"]["job"]["worst_mm"]["before"] ==
        Json::parse(bytes)["least_wall"]["worst_mm"]);
  // What is compared with is an input: never written over.
  const RunResult over = piece.check({"--against", was, "--json", was});
  CHECK(over.status == 2);
  CHECK(file_text(was) == bytes);
  // The JSON of a run without --against has no such member.
  CHECK_FALSE(Json::parse(bytes).contains("against"));
}

TEST_CASE("check --against: a file of no use is refused in one line, nothing is written") {
  const SmallPiece piece(1);
  const TempDir folder;
  const std::string bad = (folder.path() / "bad.json").string(),
                    out = (folder.path() / "out.json").string();
  std::ofstream(bad) << "{\"schema\": \"leastwall/check/1\"}";
  for (const std::string& file : {bad, (folder.path() / "gone.json").string(), piece.skin.string(),
                                  folder.path().string(), std::string("/dev/null")}) {
    const RunResult r = piece.check({"--against", file, "--json", out});
    CAPTURE(r.err);
    CHECK(r.status == 2);
    CHECK(r.out.empty());
    CHECK(has(r.err, file));
    CHECK(std::count(r.err.begin(), r.err.end(), '\n') == 1);
    CHECK_FALSE(std::filesystem::exists(out));
  }
}
