// The card read back from outside (poppler-utils): where to touch, what is up, what is warned of.
#include "report/sheet/setup_card.h"

#include "report/sample_setups.h"
#include "report/sample_walls.h"
#include "report/sheet/pdf_tools.h"

#include <algorithm>
#include <doctest/doctest.h>

using namespace leastwall;
using sample::PdfFile;

namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::string card_of(const CheckReport& report, const Setup& setup, SetupSheetOptions options = {}) {
  const SetupSheetInput input{report, setup};
  return setup_card(report, std::vector<CardStep>{{&input, Side::a}, {&input, Side::b}}, options);
}

} // namespace

TEST_CASE("the card says of both sides what is up, where Z is touched and with which bits") {
  const CheckReport r = sample::full_report();
  const PdfFile pdf(card_of(r, sample::full_setup()));
  CHECK(pdf.pages() == 1);
  CHECK(has(pdf.info(), "595.276 x 841.89 pts (A4)")); // ISO 216: 210 x 297 mm
  const std::string text = pdf.flat(1);
  for (const char* words :
       {"POCKET FACE UP", "SKIN FACE UP", "X -60.00 Y -85.00",
        "X 70.00 Y 105.00", // model x -60 about the line x = 5: 2 * 5 + 60
        "On top of the board: the pocket face.",
        "Touch beside the board at (mm):", "Roughing bit, leaves 0.50 mm", "ball radius 1.50 mm",
        "Program made for a board of 45.00 mm.", "Touch plate: really 0.600 mm thinner",
        "The flip line is X 5.00", "Spinning cutters", "fumes", "never a guarantee"})
    CHECK_MESSAGE(has(text, words), std::string(words));
  CHECK(card_of(r, sample::full_setup()) == card_of(r, sample::full_setup()));
}

TEST_CASE("touch points on the card are the largest words of their set-up") {
  const PdfFile pdf(card_of(sample::full_report(), sample::full_setup()));
  double figures = 0, others = 0;
  for (const sample::Word& w : pdf.words()) {
    const double height = w.bottom - w.top;
    if (w.text == "-85.00" || w.text == "105.00")
      figures = figures == 0 ? height : std::min(figures, height);
    else if (w.text == "POCKET" || w.text == "Touch" || w.text == "Finishing")
      others = std::max(others, height);
  }
  CHECK(figures > 30); // points: read from a step back
  CHECK(figures > 1.2 * others);
}

TEST_CASE("a card in inches has both units, and no word lies over another on either paper") {
  CheckReport r = sample::full_report();
  r.title = "a very long name of a lantern that somebody typed without ever thinking of paper, "
            "left_half_of_the_second_version_with_the_deeper_grooves_and_the_new_rim_final_v12";
  for (const bool inch : {false, true}) {
    CAPTURE(inch);
    CHECK(sample::faults(PdfFile(card_of(r, sample::full_setup(), {PaperSize::a4, inch})), 595.276,
                         841.89) == "");
    CHECK(sample::faults(PdfFile(card_of(r, sample::full_setup(), {PaperSize::letter, inch})), 612,
                         792) == "");
  }
  const std::string text = PdfFile(card_of(r, sample::full_setup(), {PaperSize::a4, true})).flat(1);
  CHECK(has(text, "X -2.3622 Y -3.3465"));             // -60 and -85 mm / 25.4
  CHECK(has(text, "ball radius 0.0591 in (1.50 mm)")); // 1.5 / 25.4
}

TEST_CASE("a point that cannot be touched is not printed, and warnings are counted") {
  CheckReport r = sample::bare_report();
  r.box.add(Vec3{-20, -30, -10});
  r.box.add(Vec3{20, 30, 0});
  Setup setup = sample::full_setup();
  CHECK_FALSE(has(PdfFile(card_of(r, setup)).flat(1), "on the setup sheet"));
  setup.outer.touch_point = Point2{0, 0}; // bed zero under the board
  r.warnings.push_back({"touch-not-reachable", "No one can touch the bed there.", Severity::doubt});
  const std::string text = PdfFile(card_of(r, setup)).flat(1);
  CHECK(has(text, "NO PLACE TO TOUCH"));
  CHECK(has(text, "The stated point cannot serve. The board lies on the bed there"));
  CHECK(has(text, "State touch_point beside the board"));
  CHECK(has(text, "X -60.00 Y -85.00")); // side A as it was
  CHECK_FALSE(has(text, "X 10.00"));
  CHECK(has(text, "A warning stands on the setup sheet: read it first"));
  r.warnings.push_back({"open-edges", "The skin has holes.", Severity::unproven});
  CHECK(has(PdfFile(card_of(r, setup)).flat(1), "DO NOT CUT: NO WALL IS PROVEN"));
}

TEST_CASE("four set-ups stand on a page, the fifth on the next, numbered through") {
  const CheckReport r = sample::full_report();
  const Setup setup = sample::full_setup();
  std::vector<SheetStep> steps(5);
  std::vector<SetupSheetInput> inputs;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    steps[i].side = i < 4 ? Side::a : Side::b;
    steps[i].number = i + 1;
    steps[i].of = 5;
    steps[i].of_board = i + 1;
    steps[i].cuts = "cut number " + std::to_string(i + 1);
    inputs.push_back({r, setup});
    inputs.back().step = &steps[i];
  }
  std::vector<CardStep> card;
  for (std::size_t i = 0; i < steps.size(); ++i)
    card.push_back({&inputs[i], steps[i].side});
  const PdfFile pdf(setup_card(r, card, {}));
  REQUIRE(pdf.pages() == 2);
  for (std::size_t i = 0; i < steps.size(); ++i)
    CHECK(has(pdf.flat(i < 4 ? 1 : 2), "Cut cut number " + std::to_string(i + 1) + "."));
  CHECK(has(pdf.flat(2), "Page 2 of 2"));
  CHECK(sample::faults(pdf, 595.276, 841.89) == "");
}

TEST_CASE("no touch point and none that serves: one statement with its reason") {
  CheckReport r = sample::bare_report();
  r.box.add(Vec3{-20, -30, -10});
  r.box.add(Vec3{20, 30, 0});
  Setup setup = sample::full_setup();
  setup.outer.touch_point.reset(); // bed zero, and the board lies on its middle
  const std::string text = PdfFile(card_of(r, setup)).flat(1);
  CHECK(has(text, "NO PLACE TO TOUCH No point is stated, and the middle cannot serve. The board "
                  "lies on the bed there"));
  CHECK_FALSE(has(text, "not stated, make sure"));
}
