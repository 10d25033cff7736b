#include "base/text/shorten_middle.h"

#include "base/text/wrap_text.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("a single word that is too long keeps its first and last letters") {
  CHECK(shorten_middle("short.stl", 20) == "short.stl");
  const std::string cut = shorten_middle("a-very-long-name-of-a-pocket.stl", 16);
  CHECK(text_columns(cut) == 16);
  CHECK(cut.starts_with("a-very"));
  CHECK(cut.ends_with("et.stl"));
  CHECK(shorten_middle("abcdef", 2).empty());
}

TEST_CASE("a name of several words loses whole words, so that no two grow together") {
  const std::string name = "the left half of the lantern: skin to candle room";
  CHECK(shorten_middle(name, 49) == name);
  CHECK(shorten_middle(name, 33) == "the left half ... to candle room");
  CHECK(shorten_middle(name, 28) == "the left ... to candle room");
  CHECK(shorten_middle(name, 26) == "the left ... candle room");
  CHECK(shorten_middle(name, 15) == "... candle room");
}

TEST_CASE("names that differ at their end differ when they are shortened") {
  for (const int columns : {16, 20, 24, 30, 40})
    CHECK(shorten_middle("lantern with the deep grooves, left half", columns) !=
          shorten_middle("lantern with the deep grooves, right half", columns));
}

TEST_CASE("what a title ends with stays whole, the name before it is cut") {
  const std::string title = "Gourd lantern with the deep grooves, whole, right half: skin to room";
  const auto cut = [&](int columns) {
    return shorten_before(title, ", right half: skin to room", [&](const std::string& shorter) {
      return text_columns(shorter) <= columns;
    });
  };
  CHECK(cut(80) == title);
  CHECK(cut(60) == "Gourd lantern ... grooves, whole, right half: skin to room");
  CHECK(cut(36).ends_with("..., right half: skin to room") == false);
  CHECK(cut(36).ends_with(", right half: skin to room"));
  CHECK(cut(20).ends_with("to room")); // no room for all of it
}

TEST_CASE("one long word among short ones is cut, not dropped with all that has room") {
  const std::string cut = shorten_middle("a left_half_of_the_second_version_with_the_rim b", 24);
  CHECK(text_columns(cut) == 24);
  CHECK(cut.starts_with("a left_"));
}

TEST_CASE("letters of other alphabets are never cut in two") {
  const std::string word = "H\xC3\xA4lften\xC3\xBC"
                           "bersicht\xC3\xA4";
  for (int columns = 3; columns < 16; ++columns)
    CHECK(printable(shorten_middle(word, columns)) == shorten_middle(word, columns));
}
