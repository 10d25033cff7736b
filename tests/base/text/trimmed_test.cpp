#include "base/text/trimmed.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("blanks at the ends of a text go, those inside stay") {
  CHECK(trimmed("\t 2 : 1  ") == "2 : 1");
  CHECK(trimmed("") == "");
  CHECK(trimmed(" \t ") == "");
  CHECK(trimmed("x") == "x");
  CHECK(trimmed("\tx ", " ") == "\tx"); // only the blanks that are named
}
