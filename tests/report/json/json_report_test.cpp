#include "report/json/json_report.h"

#include "base/errors.h"
#include "report/json/check_schema.h"
#include "report/sample_walls.h"

#include <cmath>
#include <cstdlib>
#include <doctest/doctest.h>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

using namespace leastwall;
using test::fits_check_schema;
using Json = nlohmann::ordered_json;

namespace {

std::vector<std::string> keys(const Json& object) {
  std::vector<std::string> out;
  for (const auto& item : object.items())
    out.push_back(item.key());
  return out;
}

bool has_null(const Json& json) {
  if (json.is_null())
    return true;
  if (json.is_structured())
    for (const auto& item : json)
      if (has_null(item))
        return true;
  return false;
}

} // namespace

TEST_CASE("JSON keeps its promises to scripts") {
  const CheckReport r = sample::full_report();
  const std::string text = json_report(r);
  CHECK(text.back() == '\n');
  const Json json = Json::parse(text);
  CHECK(json["schema"] == "leastwall/check/2");
  CHECK(json["verdict"] == "thin");
  CHECK(json["limit_mm"] == 0.8);
  CHECK(keys(json["least_wall"]) == std::vector<std::string>{"design_mm", "expected_mm", "worst_mm",
                                                             "straight_down_mm", "at_mm",
                                                             "spread_mm"});
  CHECK(json["least_wall"]["at_mm"] == Json::array({12.34, -4.01, -18.25}));
  CHECK(json["least_wall"]["spread_mm"] == Json::array({0.51, 0.79}));
  CHECK(json["area_under_limit_mm2"] == 123.456);
  CHECK(json["area_at_risk_mm2"] == 456.789);
  CHECK(json["regions"][0]["least_wall_mm"] == 0.652);
  CHECK(json["regions"][0]["area_mm2"] == 300.5);
  CHECK(json["regions"][0]["at_mm"][2] == -18.25);
  CHECK(json["chance"]["under_limit"] == 0.97);
  CHECK(json["chance"]["cut_through"] == 0.0005);
  CHECK(json["chance"]["trials"] == 20000);
  CHECK(json["causes"][0]["side"] == "B");
  CHECK(json["causes"][0]["largest_allowed_mm"] == 0.021);
  CHECK(json["advice"][1]["verdict"] == "at-risk");
  CHECK(json["advice"][1]["cost"] == "model");
  CHECK(json["warnings"][0]["code"] == "open-mesh");
  CHECK(json["assumptions"].size() == 1);
  CHECK(json_report(r) == text);
}

TEST_CASE("what is absent is left out, never null") {
  const Json bare = Json::parse(json_report(sample::bare_report()));
  CHECK_FALSE(has_null(bare));
  CHECK_FALSE(bare.contains("chance"));
  CHECK_FALSE(bare["least_wall"].contains("straight_down_mm"));
  CHECK_FALSE(bare["least_wall"].contains("spread_mm"));
  CHECK_FALSE(bare["least_wall"].contains("may_be_deeper"));
  CHECK_FALSE(bare["meshes"].contains("box_mm"));
  const Json full = Json::parse(json_report(sample::full_report()));
  CHECK_FALSE(full["causes"][1].contains("side"));
  CHECK_FALSE(full["causes"][1].contains("largest_allowed_mm"));
  CHECK_FALSE(full["regions"][1].contains("worst_cause"));
}

TEST_CASE("numbers are rounded to six decimals without minus zero") {
  CheckReport r = sample::bare_report();
  r.wall.least_wall.at = {-1e-9, 1.0 / 3, 123456789.123456789};
  const std::string text = json_report(r);
  CHECK(text.find("-0.0") == std::string::npos);
  CHECK(text.find("0.333333,") != std::string::npos);
  CHECK(text.find("123456789.123457") != std::string::npos);
}

TEST_CASE("a number that is not finite is a fault, not a null") {
  CheckReport r = sample::bare_report();
  r.wall.least_wall.worst_mm = std::nan("");
  CHECK_THROWS_AS(json_report(r), RunError);
  r.wall.least_wall.worst_mm = HUGE_VAL;
  CHECK_THROWS_AS(json_report(r), RunError);
}

TEST_CASE("the schema accepts what is written and refuses what is not") {
  // JSON Schema 2020-12, checked by the python3-jsonschema library.
  CheckReport odd = sample::full_report();
  odd.pocket.file = "caf\xe9.stl"; // Latin-1, no UTF-8
  odd.skin.file = "\xe8\x91\x89 \"quoted\"\n.stl";
  CHECK(fits_check_schema("full", json_report(sample::full_report())));
  CHECK(fits_check_schema("bare", json_report(sample::bare_report())));
  CHECK(fits_check_schema("odd", json_report(odd)));
  CheckReport deeper = sample::bare_report();
  deeper.wall.least_wall.may_be_deeper = true;
  CHECK(Json::parse(json_report(deeper))["least_wall"]["may_be_deeper"] == true);
  CHECK(fits_check_schema("deeper", json_report(deeper)));

  Json broken = Json::parse(json_report(sample::full_report()));
  broken["least_wall"]["straight_down_mm"] = nullptr;
  CHECK_FALSE(fits_check_schema("null", broken.dump()));
  broken = Json::parse(json_report(sample::full_report()));
  broken["verdict"] = "fine";
  CHECK_FALSE(fits_check_schema("word", broken.dump()));
  broken = Json::parse(json_report(sample::full_report()));
  broken["extra"] = 1;
  CHECK_FALSE(fits_check_schema("extra", broken.dump()));
  broken = Json::parse(json_report(sample::full_report()));
  broken["least_wall"].erase("design_mm");
  CHECK_FALSE(fits_check_schema("missing", broken.dump()));
}
