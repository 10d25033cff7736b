#include "job/keys/known_keys.h"

#include "base/errors.h"
#include "job/job_digest.h"
#include "job/job_text.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <map>
#include <set>
#include <string>

using namespace leastwall;
using leastwall::test::digest;
using leastwall::test::JobText;
using leastwall::test::parse;

namespace {

/// Paths of the tables in which a schema stands.
const std::map<std::string, std::vector<std::string>>& places() {
  static const std::map<std::string, std::vector<std::string>> all = {
      {"", {""}},
      {"board", {"board"}},
      {"side", {"side_a", "side_b", "part.pocket.side_a", "part.pocket.side_b"}},
      {"bit", {"side_a.bit", "side_b.bit", "part.pocket.side_a.bit", "part.pocket.side_b.bit"}},
      {"roughing", {"side_a.roughing", "side_b.roughing", "part.pocket.side_a.roughing"}},
      {"bed", {"bed"}},
      {"resurface", {"bed.resurface"}},
      {"flip", {"flip"}},
      {"dowels", {"flip.dowels"}},
      {"part", {"part"}},
      {"placing", {"part.placing", "part.pocket.placing"}},
      {"pocket", {"part.pocket"}},
      {"pour", {"pour"}},
      {"resin", {"part.pocket.resin"}},
      {"hole", {"part.hole"}}};
  return all;
}

/// What else must be stated so that the key stands in a job without contradiction.
void prepare(JobText& text, const KnownKey& key, const std::string& table) {
  const std::string id = std::string(key.owner) + "." + std::string(key.name);
  if (key.owner == "flip" || key.owner == "dowels") {
    text.set("flip", "located_by", "\"dowels\"").set("flip.dowels", "spacing", "200");
    if (id == "dowels.pin_diameter" || id == "dowels.hole_diameter" ||
        id == "dowels.bed_hole_diameter" || id == "dowels.bed_fit")
      text.set("flip.dowels", "pin_diameter", "7.99").set("flip.dowels", "hole_diameter", "8.10");
    else if (id == "dowels.fit")
      text.set("flip.dowels", "pin_diameter", "8");
    else
      text.set("flip.dowels", "clearance", "0.02");
  }
  if (id == "board.corner" || id == "board.size")
    text.set("board", "corner", "[-1, -1]").set("board", "size", "[2, 2]");
  if (id == "board.species" || id == "board.grain" || id == "board.moisture_gain")
    text.set("board", "species", "\"black cherry\"").set("board", "grain", "\"radial\"");
  if (id == "bed.origin" || id == "bed.reading_error")
    text.set("bed", "readings", "[[0, 0, 0], [9, 0, 0], [0, 9, 0]]");
  if (id == "bed.corner" || id == "bed.size")
    text.set("bed", "corner", "[-90, -80]")
        .set("bed", "size", "[210, 220]")
        .set("bed", "origin", "[1, 2]");
  if (key.owner == "resurface" && id != "resurface.residual")
    text.set(table, "tram_reading", "0.2")
        .set(table, "tram_swing", "250")
        .set(table, "cutter", "30")
        .set(table, "stepover", "20");
  if (id == "resurface.spoilboard_least")
    text.set(table, "spoilboard", "19");
  if (id == "resurface.dowel_hole_least")
    text.set(table, "dowel_hole", "13");
  if (id == "side.sanding_error" || id == "side.sanding_length")
    text.set(table, "sanding", "0.3");
  if (id == "side.sanding_length")
    text.set(table, "sanding_error", "0.05");
  if (id == "board.variation_length")
    text.set(table, "variation", "0.05");
  if (id == "bit.radius_error")
    text.set(table, "ball_radius", "3");
  if (id == "bit.setter_error" || id == "bit.length_from")
    text.set(table, "setter_error", "0.007");
  if (id == "bit.setter_error")
    text.set(table, "length_from", "\"tool setter\"");
  if (id == "pocket.rim_depth")
    text.set(table, "rim", "\"runs out\"").set(table, "rim_depth", "4");
  if (id == "pour.tilt_towards")
    text.set(table, "tilt", "\"1 mm/m\"");
  if (id == "resin.ratio" || id == "resin.ratio_by")
    text.set(table, "ratio", "\"3:1\"").set(table, "ratio_by", "\"weight\"");
  if (key.owner == "roughing")
    text.set(table, "allowance", "0.7").set(table, "touch_off", "0.09");
}

/// Values to try, each different from what prepare() and the smallest job state.
std::vector<std::string> values_of(const KnownKey& key) {
  if (key.type == KeyType::uncertain)
    return {"0.011", "{limits = 0.012}", "{standard = 0.013}", "\"0.0005 in\""};
  if (key.type == KeyType::lengths)
    return {"0.05", "[0.05, 0.06]"};
  if (key.name == "shift")
    return {"[1, 2, 3]"};
  if (key.name == "depth_per_pass")
    return {"0.4"};
  if (key.name == "trials" || key.name == "seed")
    return {"12345"};
  if (key.name == "limit")
    return {"0.6"};
  if (key.name == "fit")
    return {"\"H7/h6\"", "\"H8/h6\""};
  if (key.name == "accepted_chance")
    return {"\"1 in 30\"", "0.07"};
  if (key.name == "origin" || key.name == "corner")
    return {"[-3, 4]"};
  if (key.name == "pocket_face_z")
    return {"3.5"};
  if (key.owner == "flip" && key.name == "at")
    return {"-2.5"};
  if (key.owner == "board" && key.name == "thickness")
    return {"31"};
  std::vector<std::string> out;
  for (const std::string_view choice : key.choices)
    out.push_back(fmt::format("\"{}\"", choice));
  if (out.empty())
    out.emplace_back(key.example);
  return out;
}

} // namespace

TEST_CASE("every schema of the table stands somewhere, and nothing is listed twice") {
  std::set<std::string> seen;
  for (const KnownKey& key : known_keys()) {
    CAPTURE(key.name);
    CHECK(places().contains(std::string(key.owner)));
    CHECK(seen.insert(std::string(key.owner) + "." + std::string(key.name)).second);
    CHECK_FALSE(key.help.empty());
    CHECK(key.help.ends_with('.'));
    const bool holds_keys = key.type == KeyType::table || key.type == KeyType::tables;
    CHECK(holds_keys == !key.schema.empty());
    CHECK(holds_keys == key.example.empty());
    CHECK((key.type == KeyType::choice) == !key.choices.empty());
    CHECK((key.type != KeyType::number || !key.unit.empty()));
    CHECK(find_key(key.owner, key.name) == &key);
    if (key.fallback) {
      CHECK(*key.fallback >= key.least);
      CHECK(*key.fallback <= key.most);
      CHECK_FALSE(key.required);
    }
    CHECK_FALSE(wanted(key).empty());
  }
  CHECK(find_key("", "no_such_key") == nullptr);
}

TEST_CASE("stating any key, with each of its values, changes the job and ends its assumption") {
  // These need another part or pocket (job_walls_test.cpp, refused_jobs_test.cpp).
  const std::set<std::string_view> of_several{"mirror_of", "inside"};
  std::size_t tried = 0;
  for (const KnownKey& key : known_keys()) {
    if (key.type == KeyType::table || key.type == KeyType::tables || key.owner == "hole" ||
        of_several.contains(key.name) || (key.owner == "pocket" && key.name == "moisture_gain"))
      continue;
    for (const std::string& table : places().at(std::string(key.owner))) {
      JobText plain;
      prepare(plain, key, table);
      std::set<std::string> digests;
      const std::vector<std::string> values = values_of(key);
      REQUIRE_FALSE(values.empty());
      for (const std::string& value : values) {
        JobText text = plain;
        const std::string name(key.name);
        if (name == "readings" && table == "bed") // the file of readings is tried elsewhere
          CHECK(value.starts_with("[["));
        if (table.ends_with(".bit") && value == "\"datum\"")
          continue; // with a setter's error it is a contradiction; it is the value of every other
                    // job
        if (value == "\"edges\"") { // no dowels, but an error of the line
          text = JobText{};
          text.set("flip", "line_error", "0.03");
        }
        if (value == "\"runs out\"") // asks for its depth
          text.set(table, "rim_depth", "3");
        const std::string path = table.empty() ? name : table + "." + name;
        CAPTURE(path);
        CAPTURE(value);
        text.set(table, name, value);
        Job job;
        REQUIRE_NOTHROW(job = parse(text.str()));
        digests.insert(digest(job));
        for (const Assumption& assumption : job.assumptions)
          CHECK(assumption.key != path);
        ++tried;
      }
      // Every value gives another job; one of several may be what is taken when nothing is stated.
      CAPTURE(key.owner);
      CAPTURE(key.name);
      const std::size_t skipped = key.name == "length_from" ? 1 : 0;
      CHECK(digests.size() + skipped == values.size());
      if (values.size() == 1 && !key.required)
        CHECK_FALSE(digests.contains(digest(parse(plain.str()))));
    }
  }
  CHECK(tried > 150);
}

TEST_CASE("the keys of a hole reach the job") {
  JobText text;
  text.set("part.hole", "name", "\"cord\"")
      .set("part.hole", "at", "[0, 70]")
      .set("part.hole", "diameter", "6")
      .set("part.hole", "depth", "12")
      .set("part.hole", "limit", "1");
  for (const std::string from : {"pocket face", "skin face"}) {
    text.set("part.hole", "from", fmt::format("\"{}\"", from));
    const Hole hole = parse(text.str()).parts.at(0).holes.at(0);
    CHECK(hole.name == "cord");
    CHECK(hole.at == Point2{0, 70});
    CHECK(hole.diameter_mm == 6);
    CHECK(hole.depth_mm == 12);
    CHECK(hole.limit_mm == 1);
    CHECK((hole.from == Hole::From::pocket_face) == (from == "pocket face"));
    CHECK_FALSE(hole.flat);
    CHECK_FALSE(hole.through);
  }
  text.set("part.hole", "bottom", "\"flat\"").set("part.hole", "ends", "\"through\"");
  CHECK(parse(text.str()).parts[0].holes[0].flat);
  CHECK(parse(text.str()).parts[0].holes[0].through);
  text.set("part.hole", "from", "\"the side\"");
  CHECK_THROWS_AS(parse(text.str()), InputError);
}

TEST_CASE("a whole number out of range, and the largest one") {
  JobText text;
  text.set("", "seed", "9223372036854775807");
  CHECK(parse(text.str()).seed == 9223372036854775807U);
  text.set("", "seed", "-1");
  CHECK_THROWS_WITH_AS(parse(text.str()),
                       "j.toml:2: seed = -1 is out of range; it must be at least 0: check value "
                       "and unit",
                       InputError);
}

TEST_CASE("a length far beyond any workpiece is out of range, whatever key holds it") {
  std::size_t tried = 0;
  for (const KnownKey& key : known_keys()) {
    std::string_view pattern;
    switch (key.type) {
    case KeyType::length:
      pattern = "{}";
      break;
    case KeyType::uncertain:
      pattern = "{{limits = {}}}";
      break;
    case KeyType::point2:
      pattern = "[1, {}]";
      break;
    case KeyType::point3:
      pattern = "[0, 0, {}]";
      break;
    case KeyType::lengths:
      pattern = "[0.05, {}]";
      break;
    case KeyType::readings:
      pattern = "[[0, 0, 0], [9, 0, {}]]";
      break;
    default:
      continue;
    }
    for (const std::string_view size : {"1e9", "1e308", "-1e308", "100001", "\"1e9 in\""}) {
      const std::string& table = places().at(std::string(key.owner)).front();
      JobText text;
      prepare(text, key, table);
      const std::string name(key.name);
      text.set(table, name, fmt::format(fmt::runtime(pattern), size));
      const std::string whole = text.str();
      const std::string path = table.empty() ? name : table + "." + name;
      CAPTURE(path);
      CAPTURE(whole);
      // The line of the key, and that it is the size which is wrong.
      const std::size_t head = table.empty() ? 0 : whole.find("[" + table + "]");
      const std::size_t at = ("\n" + whole).find("\n" + name + " = ", head);
      REQUIRE(at != std::string::npos);
      const auto line =
          1 + std::count(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(at), '\n');
      std::string said;
      try {
        parse(whole);
      } catch (const InputError& e) {
        said = e.what();
      }
      CHECK(said.starts_with(fmt::format("j.toml:{}: {} = ", line, path)));
      CHECK(said.find("is out of range; it must be") != std::string::npos);
      ++tried;
    }
  }
  CHECK(tried > 200);
}

TEST_CASE("the largest lengths are held by the largest that a key allows") {
  JobText text;
  text.set("part.placing", "shift", "[0, -100000, 100000]");
  CHECK(parse(text.str()).parts[0].placing.shift_mm == Vec3{0, -1e5, 1e5});
  text.set("part.placing", "shift", "[0, 0, -100001]");
  CHECK_THROWS_WITH_AS(parse(text.str()),
                       "j.toml:15: part.placing.shift = -100001 mm is out of range; it must be "
                       "from -100000 mm to 100000 mm: check value and unit",
                       InputError);
}
