#include "report/words/amount_text.h"

#include <doctest/doctest.h>

using namespace leastwall;

// NIST Handbook 44, appendix C: a US fluid ounce is 29.5735 ml, an ounce 28.3495 g.
TEST_CASE("millilitres and grams, and what US cups and scales show") {
  CHECK(volume_text(92'123, false) == "92.1 ml");
  CHECK(volume_text(9'994, false) == "9.99 ml");
  CHECK(volume_text(9'996, false) == "10.0 ml");
  CHECK(volume_text(295'735.295625, true) == "10.00 fl oz (295.7 ml)");
  CHECK(volume_text(4, false) == "under 0.01 ml");
  CHECK(volume_text(0, false) == "0.00 ml");
  CHECK(weight_text(283.49523125, true) == "10.00 oz (283.5 g)");
  CHECK(weight_text(3.456, false) == "3.46 g");
  CHECK(ml_number(std::optional<double>()).empty());
  CHECK(gram_number(std::optional<double>(12.34)) == "12.3");
}
