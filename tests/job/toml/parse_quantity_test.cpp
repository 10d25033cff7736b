#include "job/toml/parse_quantity.h"

#include <clocale>
#include <doctest/doctest.h>
#include <string>

using namespace leastwall;

TEST_CASE("lengths: the inch is exactly 25.4 mm (international yard and pound agreement, 1959)") {
  CHECK(parse_length_mm("1 in", LengthUnit::mm) == 25.4);
  CHECK(parse_length_mm("1 inch", LengthUnit::mm) == 25.4);
  CHECK(parse_length_mm("1\"", LengthUnit::mm) == 25.4);
  CHECK(*parse_length_mm("2 thou", LengthUnit::mm) == doctest::Approx(0.0508).epsilon(1e-12));
  CHECK(*parse_length_mm("0.002 in", LengthUnit::mm) == doctest::Approx(0.0508).epsilon(1e-12));
  CHECK(parse_length_mm("0.05 mm", LengthUnit::inch) == 0.05);
  CHECK(*parse_length_mm("50 um", LengthUnit::inch) == doctest::Approx(0.05).epsilon(1e-12));
  CHECK(*parse_length_mm("50\u00b5m", LengthUnit::mm) == doctest::Approx(0.05).epsilon(1e-12));
  CHECK(*parse_length_mm("50\u03bcm", LengthUnit::mm) == doctest::Approx(0.05).epsilon(1e-12));
  CHECK(parse_length_mm("1.5 cm", LengthUnit::mm) == 15.0);
}

TEST_CASE("lengths: a bare number counts in the unit of the file") {
  CHECK(parse_length_mm(" 2 ", LengthUnit::inch) == 50.8);
  CHECK(parse_length_mm("2", LengthUnit::mm) == 2.0);
  CHECK(parse_length_mm("+1e-2mm", LengthUnit::mm) == 0.01);
  CHECK(parse_length_mm("-0.5 mm", LengthUnit::mm) == -0.5);
}

TEST_CASE("lengths: a decimal comma and fractions of an inch, as people write them") {
  CHECK(parse_length_mm("0,05 mm", LengthUnit::mm) == 0.05);
  CHECK(parse_length_mm("-12,5", LengthUnit::mm) == -12.5);
  CHECK(parse_length_mm("0,125 mm", LengthUnit::mm) == 0.125); // no thousands: 0 is before it
  CHECK(parse_length_mm("1,2345 mm", LengthUnit::mm) == 1.2345);
  CHECK(parse_length_mm("1/32 in", LengthUnit::mm) == 25.4 / 32);
  CHECK(parse_length_mm("1/32\"", LengthUnit::mm) == 25.4 / 32);
  CHECK(parse_length_mm("1 1/4 in", LengthUnit::mm) == 31.75);
  CHECK(parse_length_mm("1-1/4in", LengthUnit::mm) == 31.75);
  CHECK(parse_length_mm("-1/4 inch", LengthUnit::mm) == -6.35);
  CHECK(*parse_length_mm("3/8", LengthUnit::inch) == doctest::Approx(9.525)); // a job in inches
}

TEST_CASE("lengths: anything else is no length") {
  for (const char* text :
       {"",       " ",      "mm",       "0.05 mil", "0.05 m",     "1 2 mm",     "1/8 mm",
        "1/8",    "1/0 in", "3/2/1 in", "1 9/8 in", "1,250 mm",   "1,250.5 mm", "0,5,5 mm",
        "nan mm", "inf",    "1e999",    "+-1",      "0.05 mm mm", "0x10"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_length_mm(text, LengthUnit::mm));
  }
}

TEST_CASE("chances") {
  CHECK(parse_chance("1 in 20") == 0.05);
  CHECK(parse_chance(" 3 in 4 ") == 0.75);
  CHECK(parse_chance("0 in 5") == 0.0);
  for (const char* text :
       {"", "1 of 20", "1 in", "in 20", "2 in 1", "1 in 0", "-1 in 20", "1 in 20 pieces", "5 %"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_chance(text));
  }
}

TEST_CASE("numbers are read with a decimal point whatever the locale") {
  // German habits where the locale is installed; the plain one otherwise: the answer is the same.
  const std::string before = std::setlocale(LC_ALL, nullptr);
  std::setlocale(LC_ALL, "de_DE.UTF-8");
  CHECK(parse_length_mm("0.8 mm", LengthUnit::mm) == 0.8);
  CHECK(parse_length_mm("0,8 mm", LengthUnit::mm) == 0.8);
  CHECK_FALSE(parse_length_mm("1,250 mm", LengthUnit::mm));
  std::setlocale(LC_ALL, before.c_str());
}
