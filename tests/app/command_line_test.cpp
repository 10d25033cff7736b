// The built program, run as a user runs it: exit status, what it prints, what it writes.
#include "app/small_piece.h"
#include "support/build_kind.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;
using Json = nlohmann::json;

TEST_CASE("exit status 0 when every wall holds, 1 when one does not") {
  CHECK(SmallPiece(2).check().status == 0);
  CHECK(SmallPiece(0.7).check().status == 1); // design wall under the limit
  CHECK(SmallPiece(-1).check().status == 1);  // cut through
  // Each side may take 0.05 and its bed 0.1, all of them rectangular: u = 0.0913, and in more than
  // one piece of twenty the sum takes more than the 0.1 that 0.9 has to spare.
  const RunResult r = SmallPiece(0.9).check({"--json", "-"});
  CHECK(Json::parse(r.out)["verdict"] == "at-risk");
  CHECK(r.status == 1);
  CHECK(SmallPiece(1.11).check().status == 0); // 0.3 at worst
}

TEST_CASE("verdict words: safe, thin, cut-through") {
  for (const auto& [wall, word] : {std::pair{2.0, "safe"}, {0.7, "thin"}, {-1.0, "cut-through"}}) {
    const RunResult r = SmallPiece(wall).check({"--json", "-"});
    const Json json = Json::parse(r.out);
    CHECK(json["verdict"] == word);
    CHECK(json["least_wall"]["design_mm"].get<double>() == Approx(wall).epsilon(0.001));
  }
}

TEST_CASE("--json - gives JSON on stdout and nothing else; the keys that stay are there") {
  const SmallPiece piece(0.7);
  const RunResult r = piece.check({"--json", "-"});
  CHECK(r.err.empty());
  const Json json = Json::parse(r.out); // throws on anything beside JSON
  for (const char* key : {"schema", "verdict", "limit_mm", "least_wall", "area_under_limit_mm2",
                          "regions", "warnings", "assumptions"})
    CHECK(json.contains(key));
  for (const char* key : {"design_mm", "expected_mm", "worst_mm", "straight_down_mm", "at_mm"})
    CHECK(json["least_wall"].contains(key));
  const Json schema = Json::parse(
      file_text(std::string(LEASTWALL_SOURCE_DIR) + "/src/report/json/check.schema.json"));
  CHECK(json["schema"] == schema["properties"]["schema"]["const"]);
  CHECK(json["limit_mm"] == 0.8);
  CHECK(json["least_wall"]["at_mm"][0].get<double>() == Approx(3));
  CHECK(json["least_wall"]["at_mm"][1].get<double>() == Approx(-7));
  REQUIRE(json["regions"].size() == 1);
  CHECK(json["regions"][0]["least_wall_mm"] == json["least_wall"]["expected_mm"]);
  // The file holds the same bytes, and the schema agrees with them.
  const std::filesystem::path file = piece.folder.path() / "result.json";
  CHECK(piece.check({"--json", file.string()}).status == 1);
  CHECK(file_text(file) == r.out);
  const RunResult valid =
      run_program({"python3", LEASTWALL_SOURCE_DIR "/tests/report/json/validate_json.py",
                   LEASTWALL_SOURCE_DIR "/src/report/json/check.schema.json", file.string()});
  INFO(valid.err);
  CHECK(valid.status == 0);
}

TEST_CASE("the same JSON bytes with 1, 2 and 8 threads, on both demo meshes") {
  const std::string meshes = LEASTWALL_SOURCE_DIR "/meshes/";
  for (const auto& [pocket, skin] :
       {std::pair{"gourd_pocket.stl", "gourd_skin.stl"}, {"leaf_back.ply", "leaf_front.ply"}}) {
    std::string first;
    for (const char* threads : {"1", "2", "8"}) {
      const RunResult r = leastwall_program(
          {"check", "--pocket", meshes + pocket, "--skin", meshes + skin, "--limit", "0.8",
           "--z-zero", "0.05", "--bed-flatness", "0.15", "--json", "-", "--threads", threads},
          {.give_up_after_s = by_build(120.0, 900.0)});
      INFO(r.err);
      REQUIRE((r.status == 0 || r.status == 1));
      if (first.empty())
        first = r.out;
      CHECK(r.out == first);
    }
    CHECK(Json::parse(first)["least_wall"]["design_mm"].get<double>() > 0.7);
  }
}

TEST_CASE("the heat map is a PNG of a size one can read") {
  const SmallPiece piece(0.7);
  const std::filesystem::path file = piece.folder.path() / "map.png";
  CHECK(piece.check({"--heatmap", file.string()}).status == 1);
  const std::string png = file_text(file);
  REQUIRE(png.size() > 1000);
  // PNG specification (ISO/IEC 15948), sections 5.2 and 11.2.2: signature, then IHDR.
  CHECK(png.substr(0, 8) == "\x89PNG\r\n\x1a\n");
  CHECK(png.substr(12, 4) == "IHDR");
  const auto number = [&](std::size_t at) {
    unsigned n = 0;
    for (std::size_t i = 0; i < 4; ++i)
      n = n * 256 + static_cast<unsigned char>(png[at + i]);
    return n;
  };
  CHECK(number(16) >= 1200);
  CHECK(number(20) >= 600);
  CHECK(png.substr(png.size() - 8, 4) == "IEND");
  CHECK(piece.left() == std::vector<std::string>{"map.png"});
}

TEST_CASE("--units inch scales files that state no unit") {
  const SmallPiece inches(2, 1 / 25.4);
  const auto design = [](const RunResult& r) {
    return Json::parse(r.out)["least_wall"]["design_mm"].get<double>();
  };
  CHECK(design(inches.check({"--json", "-", "--units", "inch"})) == Approx(2).epsilon(1e-5));
  CHECK(design(inches.check({"--json", "-", "--units", "mm"})) == Approx(2 / 25.4).epsilon(1e-5));
}

TEST_CASE("lengths may be given with a unit") {
  // 1 inch is 25.4 mm exactly (international yard and pound agreement, 1959).
  const SmallPiece piece(2);
  const auto limit = [&](const char* text) {
    const RunResult r = leastwall_program({"check", "--pocket", piece.pocket.string(), "--skin",
                                           piece.skin.string(), "--limit", text, "--json", "-"});
    return Json::parse(r.out)["limit_mm"].get<double>();
  };
  CHECK(limit("0.8") == 0.8);
  CHECK(limit("0.8mm") == 0.8);
  CHECK(limit("0.03in") == Approx(0.762));
}

TEST_CASE("text: verdict first, 80 columns, no colour where no terminal is") {
  const SmallPiece piece(0.7);
  const RunResult plain = piece.check(), inches = piece.check({"--inches"});
  CHECK(plain.err.empty());
  const std::string first = plain.out.substr(0, plain.out.find('\n'));
  std::string lower = first;
  for (char& c : lower)
    c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  CHECK(has(lower, "thin"));
  for (const std::string& text : {plain.out, inches.out}) {
    CHECK(text.find('\x1b') == text.npos);
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      CAPTURE(line);
      // Bytes that continue a character of UTF-8 take no column.
      CHECK(std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xc0) != 0x80; }) <=
            80);
    }
  }
  CHECK(piece.check({}, {.environment = {"NO_COLOR=1"}}).out == plain.out);
  // 0.700 mm is 0.0276 in.
  CHECK(has(inches.out, "0.0276"));
  CHECK_FALSE(has(plain.out, "0.0276"));
}

TEST_CASE("--all prints more, never less, and what was written is named last, as it was given") {
  const SmallPiece piece(0.7);
  const RunResult plain = piece.check(), all = piece.check({"--all"});
  CHECK(plain.status == all.status);
  CHECK(has(plain.out, "More with `leastwall check --all`: "));
  CHECK_FALSE(has(all.out, "--all"));
  CHECK(all.out.size() > plain.out.size());
  CHECK_FALSE(has(plain.out, "Written:"));
  const TempDir folder;
  const std::string json = (folder.path() / "a.json").string();
  const RunResult written = piece.check({"--json", json});
  CHECK(written.out.starts_with(plain.out));
  std::string one_line = written.out.substr(plain.out.size());
  std::erase(one_line, '\n');
  CHECK(one_line.starts_with("Written:"));
  CHECK(has(one_line, "a.json"));
}

TEST_CASE("--quiet prints nothing; the exit status tells") {
  const RunResult safe = SmallPiece(2).check({"--quiet"}),
                  thin = SmallPiece(0.7).check({"--quiet"});
  CHECK(safe.status == 0);
  CHECK(thin.status == 1);
  CHECK(safe.out.empty());
  CHECK(safe.err.empty());
  CHECK(thin.out.empty());
  CHECK(thin.err.empty());
}

TEST_CASE("names with spaces and letters beyond ASCII, a folder that is not the present one") {
  const TempDir folder;
  const SmallPiece piece(2);
  const std::filesystem::path home = folder.path() / "Kürbis & Blatt 葉";
  std::filesystem::create_directories(home);
  std::filesystem::copy(piece.pocket, home / "Tasche innen.stl");
  std::filesystem::copy(piece.skin, home / "Haut außen.stl");
  const RunResult r =
      leastwall_program({"check", "--pocket", "Tasche innen.stl", "--skin", "Haut außen.stl",
                         "--limit", "0.8", "--json", "Blatt.json", "--heatmap", "Wärme karte.png"},
                        {.working_folder = home});
  INFO(r.err);
  CHECK(r.status == 0);
  CHECK(names_in(home) == std::vector<std::string>{"Blatt.json", "Haut außen.stl",
                                                   "Tasche innen.stl", "Wärme karte.png"});
  CHECK(Json::parse(file_text(home / "Blatt.json"))["meshes"]["skin"]["file"] == "Haut außen.stl");
}

TEST_CASE("one mesh for both surfaces is refused, as one file and as a copy of it") {
  const SmallPiece piece(2);
  const auto copy = piece.skin.parent_path() / "copy.stl";
  std::filesystem::copy_file(piece.skin, copy);
  for (const std::filesystem::path& pocket : {piece.skin, copy}) {
    const RunResult r = leastwall_program(
        {"check", "--pocket", pocket.string(), "--skin", piece.skin.string(), "--limit", "0.8"});
    CHECK(r.status == 2);
    CHECK(r.out.empty());
    CHECK(r.err.find(piece.skin.filename().string() +
                     ": the pocket and the skin are the same mesh") != std::string::npos);
  }
}
