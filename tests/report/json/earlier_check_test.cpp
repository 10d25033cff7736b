// An earlier check read back: the JSON of reports that differ in what is known.
#include "report/json/earlier_check.h"

#include "base/errors.h"
#include "report/json/against_json.h"
#include "report/json/check_schema.h"
#include "report/json/json_report.h"
#include "report/sample_walls.h"
#include "report/text/against_text.h"

#include <cstdlib>
#include <doctest/doctest.h>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

using namespace leastwall;
using test::fits_check_schema;
using Json = nlohmann::ordered_json;

namespace {

CheckReport before() {
  CheckReport r = sample::full_report();
  r.assumptions = {{"0 mm is used", "side_a.sanding", "0 mm"}, {"it is not", "board.measured"}};
  return r;
}

CheckReport after() {
  CheckReport r = before();
  r.wall.verdict = Verdict::safe;
  r.wall.least_wall.expected_mm = 0.9;
  r.wall.least_wall.worst_mm = 0.81;
  r.wall.chance->under_limit = 0.001;
  r.wall.causes[0].size = 0.02;
  r.wall.causes.pop_back();
  r.wall.limit_mm = 0.7;
  r.skin.triangles = 5;
  r.assumptions = {{"0 mm is used", "side_a.sanding", "0 mm"}, {"it is not", "side_b.roughing"}};
  return r;
}

Comparison compared(const std::string& was, const CheckReport& now) {
  return compared_checks(was, "was.json", json_report(now));
}

const ComparedWords* find(const std::vector<ComparedWords>& rows, const std::string& what) {
  for (const ComparedWords& row : rows)
    if (row.what == what)
      return &row;
  return nullptr;
}

std::string refusal(const std::string& bytes) {
  try {
    require_earlier_check(bytes, "was.json");
  } catch (const InputError& error) {
    return error.what();
  }
  return "none";
}

} // namespace

TEST_CASE("against an earlier check: verdict, least wall and chance, then what differs") {
  const Comparison c = compared(json_report(before()), after());
  CHECK(c.whole.verdict_before == "thin");
  CHECK(c.whole.verdict_after == "safe");
  CHECK(c.whole.expected_mm.before == 0.652);
  CHECK(c.whole.expected_mm.after == 0.9);
  CHECK(c.whole.worst_mm.before == 0.412);
  CHECK(c.whole.worst_mm.after == 0.81);
  CHECK(c.whole.too_thin.before == 0.97);
  CHECK(c.whole.too_thin.after == 0.001);
  REQUIRE(find(c.setup, "limit"));
  CHECK(find(c.setup, "limit")->before == "0.800 mm");
  CHECK(find(c.setup, "limit")->after == "0.700 mm");
  REQUIRE(find(c.setup, "touch-off, side B"));
  CHECK(find(c.setup, "touch-off, side B")->before == "+-0.050 mm");
  CHECK(find(c.setup, "touch-off, side B")->after == "+-0.020 mm");
  REQUIRE(find(c.setup, "bed flatness"));
  CHECK(find(c.setup, "bed flatness")->before == "+-0.150 mm");
  CHECK(find(c.setup, "bed flatness")->after.empty());
  CHECK(c.setup.size() == 3);
  REQUIRE(c.meshes.size() == 1);
  CHECK(c.meshes[0].what == "skin, triangles");
  CHECK(c.meshes[0].before == "240000");
  CHECK(c.stated_now == std::vector<std::string>{"board.measured"});
  CHECK(c.left_out_now == std::vector<std::string>{"side_b.roughing"});
  const Comparison same = compared(json_report(before()), before());
  CHECK(same.setup.empty());
  CHECK(same.meshes.empty());
  CHECK(same.stated_now.empty());
}

TEST_CASE("what one of both does not tell is absent, never 0") {
  CheckReport bare = before();
  bare.wall.chance.reset();
  bare.wall.causes.clear();
  Json was = Json::parse(json_report(bare));
  was.erase("least_wall");
  was.erase("meshes");
  const Comparison c = compared(was.dump(), after());
  CHECK_FALSE(c.whole.too_thin.before);
  CHECK_FALSE(c.whole.expected_mm.before);
  CHECK(c.whole.expected_mm.after == 0.9);
  const std::string text = against_text(c, {});
  CHECK(text.find("  least wall, expected    not told   0.900 mm\n") != text.npos);
  CHECK(text.find("  a wall under the limit  not told  1 in 1000\n") != text.npos);
  const Json json = Json::parse(json_report_against(after(), c))["against"];
  CHECK_FALSE(json["job"]["expected_mm"].contains("before"));
  CHECK(json["job"]["expected_mm"]["after"] == 0.9);
}

TEST_CASE("walls stand beside those of their name") {
  CheckReport was = before(), now = after();
  for (const char* name : {"room", "ember", "old"})
    was.walls.push_back({"left", "skin", name, "wood", was.wall});
  for (const char* name : {"ember", "room", "new", "newer"})
    now.walls.push_back({"left", "skin", name, "wood", now.wall});
  now.walls[0].wall.least_wall.expected_mm = 0.111;
  now.walls[0].wall.verdict = Verdict::cut_through;
  const Comparison c = compared(json_report(was), now);
  REQUIRE(c.walls.size() == 2);
  CHECK(c.walls[0].name == "left: skin to room");
  CHECK(c.walls[0].expected_mm.after == 0.9);
  CHECK(c.walls[1].name == "left: skin to ember");
  CHECK(c.walls[1].expected_mm.after == 0.111);
  CHECK(c.walls[1].verdict_after == "cut-through");
  CHECK(c.walls_of_one == 3);
}

TEST_CASE("JSON with an earlier check has one member more and follows the schema") {
  const CheckReport now = after();
  const Comparison c = compared(json_report(before()), now);
  const std::string with = json_report_against(now, c);
  CHECK(fits_check_schema("against", with));
  CHECK(fits_check_schema("against", json_report(now)));
  Json json = Json::parse(with);
  CHECK(json["against"]["file"] == "was.json");
  CHECK(json["against"]["job"]["verdict"]["before"] == "thin");
  json.erase("against");
  CHECK(json.dump(2) + "\n" == json_report(now)); // all else byte for byte
  // A JSON that was compared itself can be compared with.
  CHECK(compared(with, now).setup.empty());
}

TEST_CASE("a damaged, foreign, huge or other JSON is refused in one line that names the file") {
  const std::string good = json_report(before());
  CHECK(refusal(good) == "none");
  CHECK(refusal("").starts_with("was.json: is no JSON, or damaged"));
  CHECK(refusal(good.substr(0, good.size() / 2)).starts_with("was.json: is no JSON, or damaged"));
  CHECK(refusal("[1, 2]").starts_with("was.json: is not the JSON of a check"));
  CHECK(refusal("{\"schema\": 7}").starts_with("was.json: is not the JSON of a check"));
  CHECK(refusal("{\"schema\": \"leastwall/bed/1\"}").find("is not the JSON") != std::string::npos);
  CHECK(refusal("{\"schema\": \"leastwall/check/1\"}")
            .starts_with("was.json: was written by another version (leastwall/check/1,"));
  CHECK(refusal(std::string(kLargestEarlierCheck + 1, ' ')).find("larger than 16 MB") !=
        std::string::npos);
  CHECK(refusal(std::string(1'000'000, '[')).find("is no JSON") != std::string::npos);
  for (const auto& [path, value] : {std::pair<const char*, Json>{"/verdict", "fine"},
                                    {"/verdict", nullptr},
                                    {"/limit_mm", "0.8"},
                                    {"/limit_mm", nullptr},
                                    {"/least_wall", 3},
                                    {"/least_wall/expected_mm", Json::array()},
                                    {"/chance/under_limit", "often"},
                                    {"/causes", "none"},
                                    {"/causes/0", 1},
                                    {"/causes/0/name", ""},
                                    {"/least_wall/worst_mm", 1e300},
                                    {"/causes/0/known", 2},
                                    {"/assumptions/0", 4},
                                    {"/meshes/skin", "s.stl"},
                                    {"/meshes/box_mm/low", Json::array()},
                                    {"/parts", 1}}) {
    Json bad = Json::parse(good);
    bad[Json::json_pointer(path)] = value;
    CAPTURE(path);
    const std::string why = refusal(bad.dump());
    CAPTURE(why);
    CHECK(why.starts_with("was.json: "));
    CHECK(why.find("damaged") != std::string::npos);
    CHECK(why.find('\n') == std::string::npos);
  }
}

TEST_CASE("where both checks hold the keys of their jobs, these are compared") {
  CheckReport then = before(), now = after();
  then.stated = {{"side_b.zero", "top"}, {"limit", "0.8"}, {"bed.flatness", "0.1"}};
  now.stated = {{"side_b.zero", "bed"}, {"limit", "0.8"}, {"bed.readings", "bed.csv"}};
  const Comparison c = compared(json_report(then), now);
  CHECK(c.by_keys);
  REQUIRE(find(c.setup, "side_b.zero") != nullptr);
  CHECK(find(c.setup, "side_b.zero")->before == "top");
  CHECK(find(c.setup, "side_b.zero")->after == "bed");
  REQUIRE(find(c.setup, "bed.flatness") != nullptr);
  CHECK(find(c.setup, "bed.flatness")->after == "not stated");
  REQUIRE(find(c.setup, "bed.readings") != nullptr);
  CHECK(find(c.setup, "bed.readings")->before == "not stated");
  CHECK(find(c.setup, "limit") == nullptr);
  CHECK(c.stated_now.empty());
  const std::string text = against_text(c, {});
  CHECK(text.find("  - side_b.zero: top; now bed\n") != text.npos);
  CHECK(text.find("Not compared: what stands in the files that the jobs name.") != text.npos);
  CHECK(fits_check_schema("stated", json_report(now)));
  // One of them without keys: as before.
  CHECK_FALSE(compared(json_report(before()), now).by_keys);
  CHECK_FALSE(compared(json_report(then), after()).by_keys);
  CHECK(compared(json_report(then), then).setup.empty());
}

TEST_CASE("damaged numbers of an earlier check are no statements") {
  const Json good = Json::parse(json_report(before()));
  const auto with = [&](const char* key, const Json& value) {
    Json damaged = good;
    damaged[key] = value;
    return refusal(damaged.dump());
  };
  CHECK(refusal(good.dump()) == "none");
  CHECK(with("chance", {{"under_limit", -5}}).find("under_limit is no chance") !=
        std::string::npos);
  CHECK(with("chance", {{"under_limit", 7.5}}).find("under_limit is no chance") !=
        std::string::npos);
  CHECK(with("chance", Json::object()).find("under_limit is no number") != std::string::npos);
  CHECK(with("least_wall", {{"design_mm", "1"}}).find("expected_mm is no number") !=
        std::string::npos);
}

TEST_CASE("an earlier check of many keys or items is told at once") {
  std::string many = "{\"k\":1";
  for (int i = 0; i < 200'000; ++i) // 200,000 names searched one after the other took a minute
    many += ",\"k" + std::to_string(i) + "\":1";
  CHECK(refusal(many + "}").find("is not the JSON of a check") != std::string::npos);
  CheckReport then = before();
  for (int i = 0; i < 20'001; ++i)
    then.stated.push_back({"key" + std::to_string(i), "1"});
  CHECK(refusal(json_report(then)).find("stated holds 20001 items") != std::string::npos);
}

TEST_CASE("of many differences the first are shown, and how many more there are") {
  CheckReport then = before(), now = after();
  for (int i = 0; i < 50; ++i) {
    then.stated.push_back({"key" + std::to_string(i), "1"});
    now.stated.push_back({"key" + std::to_string(i), "2"});
  }
  const Comparison c = compared(json_report(then), now);
  CHECK(c.setup.size() == 50);
  const std::string text = against_text(c, {});
  CHECK(text.find("key39: 1; now 2") != text.npos);
  CHECK(text.find("key40: ") == text.npos);
  CHECK(text.find("and 10 more, listed in the JSON of this check") != text.npos);
}

TEST_CASE("another title is told, for it may be another piece") {
  CheckReport now = after();
  now.title = "leaf";
  CHECK(against_text(compared(json_report(before()), now), {}).find("another title") !=
        std::string::npos);
  CHECK(against_text(compared(json_report(before()), after()), {}).find("another title") ==
        std::string::npos);
}
