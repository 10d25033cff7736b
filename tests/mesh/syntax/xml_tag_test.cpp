// Tags as W3C, "Extensible Markup Language (XML) 1.0", 3.1 and 2.3 have them: either quote, blanks
// round the equals sign, anything but the quote itself within a value.
#include "mesh/syntax/xml_tag.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("the name of an element, without its prefix") {
  for (const char* tag : {"p", "p/", "p a=\"1\"", "x:p", "x:p\ta='x:q'", "p\n/"})
    CHECK(tag_name(tag) == "p");
  CHECK(tag_name("/p").empty());
  CHECK(tag_name("").empty());
}

TEST_CASE("the value of an attribute") {
  const char* tag = "accessor source='#a b' amount=\"count='7'\"\n x:count = \"8\" empty=''";
  CHECK(attribute(tag, "source") == "#a b");
  CHECK(attribute(tag, "count") == "8");
  CHECK(attribute(tag, "amount") == "count='7'");
  CHECK(attribute(tag, "empty") == "");
  CHECK_FALSE(attribute(tag, "stride"));
  CHECK_FALSE(attribute("a count", "count"));
  CHECK_FALSE(attribute("a count=8", "count"));
  CHECK_FALSE(attribute("a count=\"8", "count"));
  CHECK_FALSE(attribute("=", "count"));
  CHECK(plain_attribute("a x:unit='1' unit='2'", "unit") == "2");
  CHECK(plain_attribute("a x:unit='1'", "x:unit") == "1");
  CHECK_FALSE(plain_attribute("a x:unit='1'", "unit"));
}
