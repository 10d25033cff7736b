#include "job/toml/stated_keys.h"

#include "job/toml/parse_toml.h"

#include <algorithm>
#include <doctest/doctest.h>

using namespace leastwall;

namespace {

std::vector<StatedKey> keys_of(const std::string& text) {
  return stated_keys(parse_toml(text, "job.toml"));
}

} // namespace

TEST_CASE("every value of a job has the name of its key, tables of an array by their own name") {
  const std::vector<StatedKey> keys = keys_of(R"(
units = "mm"
limit = 0.5
[side_a]
zero = "top"
touch_point = [-108, -56.5]
touch_off = { standard = 0.02 }
[[part]]
name = "left half"
[[part.pocket]]
name = "candle room"
limit = "0.02 in"
[[part]]
turn = 90
drawn = true
)");
  const std::vector<StatedKey> wanted{
      {"units", "mm"},
      {"limit", "0.5"},
      {"side_a.zero", "top"},
      {"side_a.touch_point", "[-108, -56.5]"},
      {"side_a.touch_off.standard", "0.02"},
      {"part left half.name", "left half"},
      {"part left half.pocket candle room.name", "candle room"},
      {"part left half.pocket candle room.limit", "0.02 in"},
      {"part 2.turn", "90"},
      {"part 2.drawn", "true"},
  };
  CHECK(keys == wanted);
}

TEST_CASE("a long list is short, and another list is another text") {
  std::string text = "readings = [";
  for (int i = 0; i < 60; ++i)
    text += "[" + std::to_string(i) + ", 0, 0.01], ";
  const std::string one = keys_of(text + "[9, 9, 0.02]]").front().value;
  const std::string other = keys_of(text + "[9, 9, 0.03]]").front().value;
  CHECK(one.size() < 120);
  CHECK(one.rfind("[[0, 0, 0.01], [1, 0, 0.01]", 0) == 0);
  CHECK(one.find("61 items, mark ") != one.npos);
  CHECK(one != other);
  CHECK(one.substr(0, 50) == other.substr(0, 50));
}

TEST_CASE("what could break a line or a character does not") {
  std::string name;
  for (int i = 0; i < 80; ++i)
    name += "\xc3\xbc"; // u with two dots, two bytes
  for (const StatedKey& one : keys_of("title = \"a\\nb\\u001b[31m\"\nother = \"x" + name + "\"")) {
    CAPTURE(one.value);
    CHECK(std::ranges::none_of(one.value, [](char c) { return c == '\n' || c == '\x1b'; }));
    if (one.key == "other") // cut between characters: one byte and whole pairs before the dots
      CHECK(one.value.find("...") % 2 == 1);
  }
}

TEST_CASE("the mark of a long text changes with its last byte") {
  const std::string a(200, 'a');
  const std::string one = keys_of("t = \"" + a + "x\"").front().value;
  const std::string other = keys_of("t = \"" + a + "y\"").front().value;
  CHECK(one != other);
  CHECK(one == keys_of("t = \"" + a + "x\"").front().value);
}
