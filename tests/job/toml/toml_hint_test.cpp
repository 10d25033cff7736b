#include "job/toml/toml_hint.h"

#include "base/errors.h"
#include "job/read_job.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("what to write for a line that is no TOML") {
  CHECK(toml_hint("limit = 0,5") == "a decimal has a point: write limit = 0.5");
  CHECK(toml_hint("limit=-0,5 # thin\r") == "a decimal has a point: write limit = -0.5");
  CHECK(toml_hint("touch_off = { limits = 0,05 }") == "a decimal has a point: write limits = 0.05");
  CHECK(toml_hint("limit = .002") == "a number begins with a digit: write limit = 0.002");
  CHECK(toml_hint("shift = -.5 # down") == "a number begins with a digit: write shift = -0.5");
  CHECK(toml_hint("limit = .").empty());
  CHECK(toml_hint("limit = 0.05 mm") ==
        "a length with its unit stands in quotes: write limit = \"0.05 mm\"");
  CHECK(toml_hint("limit = 0,05 mm") ==
        "a length with its unit stands in quotes: write limit = \"0,05 mm\"");
  CHECK(toml_hint("limit = 2\"") ==
        "a length with its unit stands in quotes: write limit = \"2 in\"");
  CHECK(toml_hint("limit = 1/32") ==
        "a fraction stands in quotes with its unit: write limit = \"1/32 in\"");
  CHECK(toml_hint("limit = O.5") == "the letter O stands where the digit 0 belongs: write 0.5");
  CHECK(toml_hint("skin = \"C:\\xtal\\skin.stl\"") ==
        "in quotes \\ begins a special character: write / instead of \\ in paths");
  for (const char* line :
       {"", "limit", "limit =", "= 5", "[part", "limit = [1,5]", "a = 'x", "a = {", "a = 1 = 2"}) {
    CAPTURE(line);
    CHECK(toml_hint(line).empty());
  }
}

TEST_CASE("the hint stands with its line") {
  const auto refusal = [](std::string_view text) -> std::string {
    try {
      parse_job(text, {.name = "j.toml", .folder = "", .files_must_exist = false});
    } catch (const InputError& error) {
      return error.what();
    }
    return "accepted";
  };
  CHECK(refusal("# a job\nlimit = 0,5\n") == "j.toml:2: a decimal has a point: write limit = 0.5");
  CHECK(refusal("title = \"x\"\r\nlimit = 0.05 mm\r\n") ==
        "j.toml:2: a length with its unit stands in quotes: write limit = \"0.05 mm\"");
  CHECK(refusal("limit = 1\n[[part]]\nskin = \"C:\\skins\\xy.stl\"\n") ==
        "j.toml:3: in quotes \\ begins a special character: write / instead of \\ in paths");
  CHECK(refusal("limit = \"0.O5 mm\"\n") ==
        "j.toml:1: limit = \"0.O5 mm\" is not a length; the letter O stands where the digit 0 "
        "belongs: write 0.05 mm");
  const std::string wide("\xff\xfel\0i\0m\0i\0t\0", 12), bare("l\0i\0m\0i\0t\0", 10);
  CHECK(refusal(wide) == "j.toml: is text in UTF-16; save it as UTF-8");
  CHECK(refusal(bare) == "j.toml: is text in UTF-16; save it as UTF-8");
}
