#include "base/text/listed.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("names in a sentence") {
  CHECK(listed({}) == "");
  CHECK(listed({"rib"}) == "rib");
  CHECK(listed({"rib", "neck"}) == "rib and neck");
  CHECK(listed({"rib", "neck", "base", "lid"}) == "rib, neck, base and lid");
}
