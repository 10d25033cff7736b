#include "job/toml/parse_toml.h"

#include "base/errors.h"

#include <doctest/doctest.h>
#include <string>

using namespace leastwall;

namespace {
std::string refusal(std::string_view text) {
  try {
    parse_toml(text, "j.toml");
  } catch (const InputError& error) {
    return error.what();
  }
  return "accepted";
}
} // namespace

TEST_CASE("every kind of TOML 1.0.0 value keeps its kind, order and line") {
  const JobNode root = parse_toml("z = 1\na = 'text'\nb = 2.5\nc = true\nd = 1979-05-27\n"
                                  "e = [1,\n 2]\nf.g = 3\n\n[h]\ni = -4\n[[j]]\nk = 1\n[[j]]\n",
                                  "j.toml");
  const JobTable& table = *root.table();
  const std::string kinds[] = {"a whole number", "a text",  "a number", "true or false", "a date",
                               "a list",         "a table", "a table",  "a list"};
  const std::string names[] = {"z", "a", "b", "c", "d", "e", "f", "h", "j"};
  const int lines[] = {1, 2, 3, 4, 5, 6, 8, 10, 12};
  REQUIRE(table.size() == 9);
  for (std::size_t i = 0; i < 9; ++i) {
    CHECK(table[i].name == names[i]);
    CHECK(kind_of(table[i].node) == kinds[i]);
    CHECK(table[i].node.line == lines[i]);
  }
  CHECK(root.find("e")->array()->at(1).line == 7);
  CHECK(root.find("h")->find("i")->line == 11);
  REQUIRE(root.find("j")->array()->size() == 2);
  CHECK(root.find("j")->array()->at(1).line == 14);
  CHECK(root.find("none") == nullptr);
  CHECK(root.find("z")->find("none") == nullptr);
}

TEST_CASE("what is not TOML is refused at its line") {
  CHECK(refusal("a = 1\nb 5\n").starts_with("j.toml:2: not valid TOML ("));
  CHECK(refusal("a = 1\n\na = 2\n").starts_with("j.toml:3: not valid TOML ("));
  CHECK(refusal("a = \"open\n").starts_with("j.toml:1: not valid TOML ("));
  CHECK(refusal("[a\n").starts_with("j.toml:1: not valid TOML ("));
  CHECK(refusal("a = top\n").find("texts stand in quotes") != std::string::npos);
  CHECK(refusal("a = \"\xff\"\n").starts_with("j.toml:1: not valid TOML ("));
  CHECK(refusal(std::string_view("a = 1\n\0b = 2\n", 13)).starts_with("j.toml:"));
}

TEST_CASE("a message is one line whatever the input holds") {
  for (const std::string text : {"a\x01 = 1\n", "= \n", "a = \"\\q\"\n", "\xef\xbb\xbf= 1\n"}) {
    const std::string message = refusal(text);
    for (const char c : message)
      CHECK(static_cast<unsigned char>(c) >= 0x20);
  }
}

TEST_CASE("size, line length and depth are limited") {
  CHECK(refusal(std::string(std::size_t{1} << 20, '\n')) == "accepted");
  CHECK(refusal(std::string((std::size_t{1} << 20) + 1, '\n')).find("larger than 1 MiB") !=
        std::string::npos);
  CHECK(refusal("\n#" + std::string(4000, 'x')).starts_with("j.toml:2: the line is longer than"));
  std::string deep = "a";
  for (int i = 0; i < 1500; ++i)
    deep += ".a";
  CHECK(refusal(deep + " = 1\n").find("nest deeper") != std::string::npos);
  CHECK(refusal("a = " + std::string(30, '[') + std::string(30, ']') + "\n").find("nest deeper") !=
        std::string::npos);
}

TEST_CASE("Windows line ends and a byte order mark are fine") {
  const JobNode root = parse_toml("\xef\xbb\xbf"
                                  "a = 1\r\n[b]\r\nc = 2\r\n",
                                  "j.toml");
  CHECK(root.find("a")->line == 1);
  CHECK(root.find("b")->find("c")->line == 3);
}
