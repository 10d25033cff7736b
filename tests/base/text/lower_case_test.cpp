#include "base/text/lower_case.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("A to Z become small, everything else stays") {
  CHECK(lower_case("Gourd.STL") == "gourd.stl");
  CHECK(lower_case("@AZ[`az{09") == "@az[`az{09"); // what stands beside them in ASCII
  CHECK(lower_case("\xc3\x84") == "\xc3\x84");     // a capital of two bytes
  CHECK(lower_case("").empty());
}
