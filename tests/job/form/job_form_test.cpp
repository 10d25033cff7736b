// A job as a form: what fields show, and what is typed into them, against the reader of jobs.
#include "job/form/job_form.h"

#include "base/errors.h"
#include "bed/bed_map.h"
#include "job/form/typed_value.h"
#include "job/keys/key_value.h"
#include "job/read_job.h"
#include "job/start_job.h"
#include "job/toml/parse_toml.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <set>

using namespace leastwall;

namespace {

const FormField& field(const JobForm& form, const std::string& path) {
  for (const std::vector<FormField>* some : {&form.first, &form.more})
    for (const FormField& one : *some)
      if (one.path == path)
        return one;
  throw RunError("no such field: " + path);
}

std::string typed(const char* schema, const char* name, const char* text,
                  LengthUnit unit = LengthUnit::mm) {
  return typed_value(*find_key(schema, name), text, unit).value.value_or("nothing");
}

TypedKeys judged(std::vector<TypedKey> keys, const std::string& job = gourd_job({})) {
  return typed_keys(job, "gourd.toml", keys);
}

} // namespace

TEST_CASE("a form has every key that stands once, each once, with what the job says") {
  const JobForm form = form_of_job(gourd_job({}), "gourd.toml");
  std::set<std::string> paths;
  for (const std::vector<FormField>* some : {&form.first, &form.more})
    for (const FormField& one : *some) {
      CHECK(paths.insert(one.path).second);
      CHECK_FALSE(one.key->help.empty());
      CHECK_FALSE(one.path.starts_with("part"));
    }
  for (const KnownKey& key : known_keys())
    if (key.owner == "side" && key.type != KeyType::table)
      for (const char* side : {"side_a.", "side_b."})
        CHECK(paths.count(side + std::string(key.name)) == 1);
  CHECK(form.first.size() == 15);
  for (const FormField& one : form.first)
    CHECK_FALSE(one.question.empty());
  CHECK(field(form, "limit").stated == "0.5");
  CHECK(field(form, "accepted_chance").stated == "1 in 20");
  CHECK(field(form, "board.size").stated == "240, 130");
  CHECK(field(form, "flip.dowels.clearance").stated == "0.04");
  CHECK_FALSE(field(form, "board.measured").stated);
}

TEST_CASE("what fields show, typed again, is what the job said") {
  const std::string job = gourd_job({});
  const JobNode root = parse_toml(job, "gourd.toml");
  for (const char* extra :
       {"", "board.readings = [[-100, -50, 45.1], [100, -50, 45.2], [0, 50, 45.05]]",
        "side_a.touch_off = {standard = 0.02}", "flip.dowels.clearance = [\"2 thou\", 0.04]"}) {
    std::string text = job;
    if (*extra != 0) {
      const std::string line = extra;
      const KeyEdit edit{line.substr(0, line.find(' ')), line.substr(line.find('=') + 2)};
      text = edited_job(job, "gourd.toml", std::span(&edit, 1));
    }
    const JobForm form = form_of_job(text, "gourd.toml");
    std::vector<TypedKey> all;
    for (const std::vector<FormField>* some : {&form.first, &form.more})
      for (const FormField& one : *some)
        if (one.stated)
          all.push_back({one.path, *one.stated});
    const TypedKeys back = judged(all, text);
    for (const FieldNote& wrong : back.wrong)
      CHECK(wrong.path + ": " + wrong.text == "");
    const JobForm again = form_of_job(edited_job(text, "gourd.toml", back.edits), "gourd.toml");
    for (std::size_t i = 0; i < form.more.size(); ++i)
      CHECK(again.more[i].stated == form.more[i].stated);
    for (std::size_t i = 0; i < form.first.size(); ++i)
      CHECK(again.first[i].stated == form.first[i].stated);
  }
}

TEST_CASE("numbers, lengths, words and lists as people type them") {
  CHECK(typed("side", "touch_off", "0.05") == "0.05");
  CHECK(typed("side", "touch_off", " +.05 ") == "0.05");
  CHECK(typed("side", "touch_off", "05") == "5");
  CHECK(typed("side", "touch_off", "0,05") == "\"0,05\"");
  CHECK(typed("side", "touch_off", "2 thou") == "\"2 thou\"");
  CHECK(typed("side", "touch_off", "{standard = 0.02}") == "{standard = 0.02}");
  CHECK(typed("side", "zero", "top") == "\"top\"");
  CHECK(typed("", "title", "a \"fine\" \\ one") == R"("a \"fine\" \\ one")");
  CHECK(typed("", "seed", "7") == "7");
  CHECK(typed("", "accepted_chance", "1 in 50") == "\"1 in 50\"");
  CHECK(typed("side", "touch_point", "-110, 75.5") == "[-110, 75.5]");
  CHECK(typed("side", "touch_point", "[-110 75]") == "[-110, 75]");
  CHECK(typed("side", "touch_point", "1,5; 2,5") == "[\"1,5\", \"2,5\"]");
  CHECK(typed("dowels", "clearance", "0.04") == "0.04");
  CHECK(typed("dowels", "clearance", "0.04, 0.05") == "[0.04, 0.05]");
  // A decimal comma is none between two numbers, and where that is not clear it is refused.
  CHECK(typed("dowels", "clearance", "0,04") == "\"0,04\"");
  CHECK(typed("dowels", "clearance", "1/32 in") == "\"1/32 in\"");
  CHECK(typed("dowels", "clearance", "0,04; 0,05") == "[\"0,04\", \"0,05\"]");
  CHECK(typed("dowels", "clearance", "1 000") == "\"1 000\"");
  CHECK_THROWS_AS(typed("dowels", "clearance", "0,04,0,05"), InputError);
  CHECK_THROWS_AS(typed("side", "touch_point", "0,5"), InputError);
  CHECK_THROWS_AS(typed("side", "touch_point", "1.000,5 2"), InputError);
  CHECK(typed("side", "plate_error", "+-0.02") == "\"+-0.02\"");
  CHECK(typed("board", "moisture_gain", "1,5 %") == "1.5");
  CHECK(typed("board", "moisture_gain", "-1,5") == "-1.5");
  CHECK(typed("board", "moisture_gain", "1,500") == "\"1,500\""); // or thousands
  CHECK(typed("board", "moisture_gain", "+-0,5") == "\"+-0,5\"");
  CHECK_THROWS_AS(typed("dowels", "clearance", "[0,04]"), InputError);
  CHECK(typed("", "seed", "1234567890123456789") == "1234567890123456789");
  CHECK(typed("side", "touch_off", "  ") == "nothing");
  CHECK(typed("side", "touch_off", "nan") == "\"nan\"");
  CHECK(typed("side", "touch_off", "1e-05") == "1e-05");
}

TEST_CASE("readings are typed as a list or pasted as a table, in the unit of the job") {
  CHECK(typed("bed", "readings", "0 0 0.1\n50 0 0.2") == "[\n  [0, 0, 0.1],\n  [50, 0, 0.2],\n]");
  // A grid with x along its first row and y in its first column.
  CHECK(typed("bed", "readings", "\t0\t50\n0\t0.1\t0.2\n40\t0.3\t0.4\n") ==
        "[\n  [0, 0, 0.1],\n  [50, 0, 0.2],\n  [0, 40, 0.3],\n  [50, 40, 0.4],\n]");
  for (const char* name : {"bed.csv", "my bed.csv", "\"bed.csv\""})
    CHECK(typed("bed", "readings", name) ==
          (std::string(name).find("my") == 0 ? "\"my bed.csv\"" : "\"bed.csv\""));
  CHECK_THROWS_AS(typed("bed", "readings", "0.02"), InputError);
  CHECK_THROWS_AS(typed("bed", "readings", "x y thickness\n0 0 45.1\n100 0 45.2\n0 100 45.3"),
                  InputError);
  // A range that no bed has is remarked on, as of a file.
  const TypedValue wide =
      typed_value(*find_key("bed", "readings"), "0 0 10.1\n100 0 0.2\n0 100 0.3", LengthUnit::mm);
  CHECK(wide.understood.back().find("differ by 9.90 mm") != std::string::npos);
  const TypedValue inches =
      typed_value(*find_key("bed", "readings"), "0 0 0.001\n2 0 0.002\n0 3 0", LengthUnit::inch);
  const JobNode node = parse_toml("value = " + *inches.value, "x");
  const std::vector<Vec3> rows =
      rows_value(*node.find("value"), *find_key("bed", "readings"), {"x", LengthUnit::inch, "x"});
  REQUIRE(rows.size() == 3);
  const auto far = std::ranges::max_element(rows, {}, &Vec3::x);
  CHECK(far->x == doctest::Approx(50.8));
  CHECK(far->z == doctest::Approx(0.0508));
  CHECK_FALSE(inches.understood.empty());
}

TEST_CASE("a wrong value is told at its field in the words of the reader, the others are taken") {
  const TypedKeys keys = judged({{"side_a.touch_off", "five"},
                                 {"side_b.sanding", "200"},
                                 {"side_b.zero", "topp"},
                                 {"side_b.touch_off", "0.02"},
                                 {"board.thickness", ""},
                                 {"bed.readings", "1 2 what\n3 4 5"},
                                 {"part.name", "x"},
                                 {"units", "inch"},
                                 {"nothing.at_all", "1"}});
  CHECK(keys.edits.size() == 1);
  CHECK(keys.edits[0].path == "side_b.touch_off");
  REQUIRE(keys.wrong.size() == 8);
  CHECK(keys.wrong[0].text.starts_with("side_a.touch_off = \"five\" is not a length"));
  CHECK(keys.wrong[1].text.starts_with("side_b.sanding = 200 mm is out of range"));
  CHECK(keys.wrong[2].text.find("did you mean \"top\"?") != std::string::npos);
  CHECK(keys.wrong[3].path == "board.thickness");
  CHECK(keys.wrong[3].text == "this must be stated");
  CHECK(keys.wrong[4].path == "bed.readings");
  CHECK(keys.wrong[5].path == "part.name");
  CHECK(keys.wrong[6].path == "units");
  CHECK(keys.wrong[7].path == "nothing.at_all");
}

TEST_CASE("what is left out and counts as 0 is told; of a bed that no one read it is refused") {
  TypedKeys keys = judged({{"board.thickness_error", ""}, {"bed.flatness", ""}});
  REQUIRE(keys.understood.size() == 1);
  CHECK(keys.understood[0].path == "board.thickness_error");
  CHECK(keys.understood[0].text.find("counts as 0") != std::string::npos);
  REQUIRE(keys.wrong.size() == 1);
  CHECK(keys.wrong[0].path == "bed.flatness");
  keys = judged({{"bed.flatness", ""}, {"bed.readings", "0 0 0\n50 0 0.1\n0 50 0.1"}});
  CHECK(keys.wrong.empty());
}

TEST_CASE("what was typed, written into the job, is what the reader of jobs reads") {
  const TypedKeys keys =
      judged({{"side_a.touch_off", "2 thou"},
              {"side_a.touch_point", "-100, 0"},
              {"bed.flatness", ""},
              {"bed.readings", "-130 -70 0.02\n130 -70 0.05\n-130 70 0.01\n130 70 0.03"},
              {"bed.origin", "0 0"}});
  CHECK(keys.wrong.empty());
  JobTextOptions options;
  options.name = "gourd.toml";
  options.files_must_exist = false;
  const Job job = parse_job(edited_job(gourd_job({}), "gourd.toml", keys.edits), options);
  CHECK(job.parts[0].pockets[0].side_a.touch_off.size_mm == doctest::Approx(0.0508));
  CHECK(job.parts[0].pockets[0].side_a.touch_point == Point2{-100, 0});
  CHECK_FALSE(job.bed.flatness_mm);
  REQUIRE(job.bed.readings);
  CHECK(job.bed.readings->highest().z == 0.05);
}
