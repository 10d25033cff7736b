#include "report/text/paragraphs.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("paragraphs keep to their width; headings stand apart; a list of nothing is not there") {
  Paragraphs mm(LengthText{}, 40);
  mm.heading("First");
  mm.para("The wall is 0.500 mm thick at the rib beside the neck.", "  - ");
  mm.list("Nothing", {});
  mm.list("Two", {"one", "another"});
  CHECK(mm.take() == "First\n"
                     "  - The wall is 0.500 mm thick at the\n"
                     "    rib beside the neck.\n"
                     "\nTwo\n  - one\n  - another\n");
  Paragraphs inch(LengthText{true});
  inch.para("0.508 mm");
  CHECK(inch.take().find("0.0200 in") != std::string::npos); // 0.508 / 25.4
}
