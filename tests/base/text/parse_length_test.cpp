#include "base/text/parse_length.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("a length on the command line: point or comma, fractions of an inch") {
  CHECK(length_from_text("0.8") == 0.8);
  CHECK(length_from_text("0,8") == 0.8);
  CHECK(length_from_text("0,8mm") == 0.8);
  CHECK(length_from_text("1/32in") == 0.79375); // the inch is 25.4 mm exactly
  CHECK(length_from_text("1/32 inch") == 0.79375);
  CHECK(length_from_text("-1 1/2in") == doctest::Approx(-38.1));
  CHECK(length_from_text("+0,5") == 0.5);
  CHECK(length_from_text("1.2thou") == doctest::Approx(0.03048));
  for (const char* text : {"1,250", "1.250,5", "1/32", "1/32mm", "1/32thou", "0/0in", ",", "0,",
                           "1//2in", "12345/2in", "0,8,1", "0 .8"}) {
    CAPTURE(text);
    CHECK_FALSE(length_from_text(text));
  }
}

TEST_CASE("what is likely wrong with a text that is no length") {
  CHECK(length_fault("0.O5") == "the letter O stands where the digit 0 belongs: write 0.05");
  CHECK(length_fault("1o mm") == "the letter O stands where the digit 0 belongs: write 10 mm");
  CHECK(length_fault("1/32") == "a fraction needs its unit: write 1/32in");
  CHECK(length_fault("1,250 mm") ==
        "the comma may be a decimal mark or part thousands: write 1.250 mm or 1250 mm");
  CHECK(length_fault("eight").empty());
  CHECK(length_fault("foo").empty());
  CHECK(length_fault("").empty());
}
