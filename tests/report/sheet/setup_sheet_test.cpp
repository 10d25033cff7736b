#include "report/sheet/setup_sheet.h"

#include "report/sample_setups.h"
#include "report/sample_walls.h"
#include "report/sheet/pdf_tools.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;
using sample::faults;
using sample::PdfFile;

namespace {

CheckReport with_pad() {
  CheckReport r = sample::full_report();
  PadRow pad;
  pad.x_mm = -60;
  pad.y_mm = -88;
  pad.size_mm = 15;
  pad.design_mm = 0.84;
  pad.expected_mm = 0.79;
  pad.low_mm = 0.61;
  pad.high_mm = 0.97;
  r.pad = pad;
  return r;
}

std::string sheet_of(const CheckReport& report, const Setup& setup, SetupSheetOptions options = {},
                     bool flip_stated = true) {
  return setup_sheet({report, setup, flip_stated, nullptr, {}}, options);
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

} // namespace

TEST_CASE("one page a side and an overlay of each, on A4 and on Letter") {
  const CheckReport r = with_pad();
  const Setup setup = sample::full_setup();
  const PdfFile a4(sheet_of(r, setup));
  CHECK(a4.pages() == 4);
  CHECK(has(a4.info(), "595.276 x 841.89 pts (A4)")); // ISO 216: 210 x 297 mm
  const PdfFile letter(sheet_of(r, setup, {PaperSize::letter, false}));
  CHECK(letter.pages() == 4);
  CHECK(has(letter.info(), "612 x 792 pts (letter)")); // 8.5 x 11 inch
}

TEST_CASE("each side says what is up, where to touch and what the pad should read") {
  const PdfFile pdf(sheet_of(with_pad(), sample::full_setup()));
  const std::string a = pdf.text(1), b = pdf.text(2);
  CHECK(has(a, "POCKET FACE UP"));
  CHECK(has(pdf.flat(1), "X -60.00"));
  CHECK(has(pdf.flat(1), "Y -85.00"));
  CHECK(has(a, "On top of the board: the pocket face."));
  CHECK(has(a, "Roughing bit, leaves 0.50 mm"));
  CHECK(has(a, "measured 45.12 mm"));
  CHECK(has(b, "SKIN FACE UP"));
  CHECK(has(pdf.flat(2), "X 70.00"));
  CHECK(has(pdf.flat(2), "Y 105.00")); // model x -60 about the line x = 5: 2 * 5 + 60
  CHECK(has(b, "On the bare spoilboard"));
  CHECK(has(b, "Length from the tool setter"));
  CHECK(has(b, "Touch plate"));
  CHECK(has(b, "thinner"));
  CHECK(has(pdf.flat(2), "It should read 0.790 mm"));
  CHECK(has(b, "Z shift = 0.840 -"));
  // Thin place 1 of the report, model x 12.34 y -4.01: side B sees x = 10 - 12.34.
  CHECK(has(a, "12.3"));
  CHECK(has(b, "-2.3"));
  for (const std::string& page : {a, b}) {
    CHECK(has(page, "Spinning cutters"));
    CHECK(has(page, "fumes"));
    CHECK(has(page, "never a guarantee"));
  }
}

TEST_CASE("the first page says what would help most, as long as that is not too late") {
  CheckReport r = with_pad();
  const PdfFile thin(sheet_of(r, sample::full_setup()));
  CHECK(has(thin.flat(1), "BEFORE YOU CUT"));
  CHECK(
      has(thin.flat(1), "Zero side B on top of the board (+0.300 mm, then safe; costs nothing)."));
  CHECK_FALSE(has(thin.flat(2), "BEFORE YOU CUT"));
  const PdfFile inch(sheet_of(r, sample::full_setup(), {PaperSize::a4, true}));
  CHECK(has(inch.flat(1), "(+0.0118 in (+0.300 mm), then safe;")); // 0.3 / 25.4
  // A wall that holds needs no help, and where none is proven no change is known to help.
  for (const Verdict verdict : {Verdict::safe, Verdict::unproven}) {
    r.wall.verdict = verdict;
    CHECK_FALSE(has(PdfFile(sheet_of(r, sample::full_setup())).flat(1), "BEFORE YOU CUT"));
  }
}

TEST_CASE("each side lists board and dowels as it sees them, at a round scale") {
  const PdfFile pdf(sheet_of(with_pad(), sample::full_setup()));
  for (const int page : {1, 2}) {
    CHECK(has(pdf.flat(page), "140.0 mm along X, 190.0 mm along Y."));
    // On the flip line x = 5, 75 mm to either side of the part's middle y 0: the same on both.
    CHECK(has(pdf.flat(page), "Dowel at X 5.00 Y -75.00"));
    CHECK(has(pdf.flat(page), "Dowel at X 5.00 Y 75.00"));
    const std::string text = pdf.flat(page);
    const std::size_t at = text.find("drawn 1 : ");
    REQUIRE(at != std::string::npos);
    const double scale = std::stod(text.substr(at + 10));
    const double round[] = {1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10};
    CHECK(std::ranges::find(round, scale) != std::end(round));
    // Drawn as it says: the board's lower and upper edges, 140 mm and the width of the pen.
    const sample::GreyPage drawn = pdf.picture(page);
    int edges = 0;
    for (int y = 0; y < drawn.height; ++y)
      for (int x = 0; x < drawn.width; ++x) {
        const int first = x;
        while (x < drawn.width && drawn.dark(x, y))
          ++x;
        edges += std::abs((x - first) / 10.0 - 0.7 - 140 / scale) < 0.2;
      }
    CHECK(edges >= 2);
  }
  CHECK_FALSE(has(PdfFile(sheet_of(with_pad(), sample::full_setup(), {}, false)).flat(1),
                  "Dowel at")); // a flip that no one stated has none
  CHECK(has(pdf.flat(1), "How wide their holes are is not stated."));
  const CheckReport r = with_pad();
  const Setup setup = sample::full_setup();
  SetupSheetInput input{r, setup};
  input.dowel_hole_mm = 8.02;
  CHECK(has(PdfFile(setup_sheet(input, {})).flat(2), "Holes of 8.02 mm."));
}

TEST_CASE("a reading of the pad gives the shift with its sign") {
  CheckReport r = with_pad();
  r.pad->reading_mm = 0.9;
  r.pad->shift_mm = -0.06;
  CHECK(has(PdfFile(sheet_of(r, sample::full_setup())).text(2), "Type in -0.060 mm"));
  r.pad->reading_mm = 0.8;
  r.pad->shift_mm = 0.04;
  CHECK(has(PdfFile(sheet_of(r, sample::full_setup())).text(2), "Type in +0.040 mm"));
}

TEST_CASE("what no one stated is said, not made up") {
  CheckReport r = sample::bare_report();
  r.box.add(Vec3{-20, -30, -10});
  r.box.add(Vec3{20, 30, 0});
  const PdfFile pdf(sheet_of(r, Setup{}, {}, false));
  CHECK(pdf.pages() == 2); // nothing thin, nothing to lay over
  CHECK(has(pdf.text(1), "Not stated: computed for"));
  CHECK(has(pdf.flat(1), "does not state where the board"));
  CHECK(has(pdf.flat(1), "Board not stated. The broken line is the outline of the piece, 40.0 mm "
                         "along X, 60.0 mm along Y."));
  CHECK_FALSE(has(pdf.flat(1), "edge at Y"));
  CHECK(has(pdf.flat(2), "No one stated it"));
  CHECK_FALSE(has(pdf.text(1), "WITNESS PAD"));
  CHECK_FALSE(has(pdf.text(1), "Program made for"));
  CHECK(faults(pdf, 595.276, 841.89) == "");
}

TEST_CASE("no text is cut off or lies over other text, with long names and in inches") {
  CheckReport r = with_pad();
  r.title = "a very long name of a lantern that somebody typed without ever thinking of paper, "
            "left_half_of_the_second_version_with_the_deeper_grooves_and_the_new_rim_final_v12";
  r.wall.regions[0].worst_cause = CauseId{CauseKind::dowel_play, Side::a, 4000000000, true};
  for (int i = 0; i < 30; ++i)
    r.wall.regions.push_back({0.7,
                              0.5,
                              3,
                              1,
                              {-50.0 + 3 * i, -80.0 + 5 * i, -12},
                              CauseId{CauseKind::tool_setter, Side::b, 1}});
  r.pad->reading_mm = 0.9;
  r.pad->shift_mm = -0.06;
  for (const bool inch : {false, true}) {
    CAPTURE(inch);
    CHECK(faults(PdfFile(sheet_of(r, sample::full_setup(), {PaperSize::a4, inch})), 595.276,
                 841.89) == "");
    CHECK(faults(PdfFile(sheet_of(r, sample::full_setup(), {PaperSize::letter, inch})), 612, 792) ==
          "");
  }
  const PdfFile inch(sheet_of(r, sample::full_setup(), {PaperSize::a4, true}));
  CHECK(has(inch.text(1), "0.0331 in")); // 0.84 mm / 25.4
}

TEST_CASE("the check line measures 100 mm and the board has its true size") {
  const Setup setup = sample::full_setup();
  for (const PaperSize size : {PaperSize::a4, PaperSize::letter}) {
    const PdfFile pdf(sheet_of(with_pad(), setup, {size, false}));
    const sample::GreyPage page = pdf.picture(4);
    // Only the end marks reach 4 mm above the line, which lies 8 mm under the drawing.
    double best = 0;
    for (int y = page.height - 280; y < page.height - 150; ++y) {
      std::vector<double> marks;
      for (int x = 0; x < page.width / 2 + 150; ++x)
        if (page.dark(x, y)) {
          const int first = x;
          while (page.dark(x, y))
            ++x;
          if (x - first <= 5)
            marks.push_back((first + x) / 2.0);
          else
            marks.assign(3, 0.0);
        }
      if (marks.size() == 2)
        best = marks[1] - marks[0];
    }
    CHECK(std::abs(best / 10 - 100) <= 0.2);

    // The upper edge of the board: an unbroken line 140 mm long, as thick as a pen's.
    int longest = 0;
    for (int y = 390; y < page.height - 290; ++y)
      for (int x = 0; x < page.width; ++x) {
        const int first = x;
        while (x < page.width && page.dark(x, y))
          ++x;
        if (x - first < page.width - 300) // the frame of the drawing is wider
          longest = std::max(longest, x - first);
      }
    CHECK(std::abs(longest / 10.0 - 0.7 - 140) <= 0.2); // between the middles of the edges
  }
}

TEST_CASE("a board too large for one page is split, and only a huge one is drawn smaller") {
  CheckReport r = with_pad();
  Setup setup = sample::full_setup();
  setup.board.footprint = Footprint{{-200, -95}, {200, 95}};
  r.wall.regions[0].at = {-150, 0, -5};
  r.wall.regions[1].at = {150, 30, -5};
  const PdfFile split(sheet_of(r, setup));
  CHECK(split.pages() == 6); // the page in the middle holds no thin place
  CHECK(has(split.text(3), "Full size, 1 : 1, on several pages"));
  CHECK(has(split.flat(3), "column 1 of 3, row 1 of 1"));
  CHECK(has(split.flat(4), "column 3 of 3, row 1 of 1"));

  setup.board.footprint = Footprint{{-900, -900}, {900, 900}};
  r.wall.regions.clear();
  for (int i = 0; i < 20; ++i)
    r.wall.regions.push_back({0.7, 0.5, 3, 1, {-850.0 + 85 * i, 800.0 - 80 * i, -12}, {}});
  const PdfFile huge(sheet_of(r, setup));
  CHECK(huge.pages() == 4);
  CHECK(has(huge.text(3), "NOT FULL SIZE"));
}

TEST_CASE("the same sheet has the same bytes") {
  const CheckReport r = with_pad();
  CHECK(sheet_of(r, sample::full_setup()) == sheet_of(r, sample::full_setup()));
  CHECK(has(PdfFile(sheet_of(r, sample::full_setup())).info(), "2000"));
}

TEST_CASE("what weighs is boxed on the page it concerns, remarks on mesh files are counted") {
  CheckReport r = with_pad();
  r.warnings = {
      {"open-edges", "Skin: The mesh is open: 8 edges.", Severity::warning, NoticeAbout::skin_mesh},
      {"touch-cut-away", "Side B: every bit touches Z zero again at x 1.0 y 2.0.",
       Severity::warning, NoticeAbout::side_b},
      {"model-off-board", "The model reaches beyond the board; check unit.", Severity::doubt},
      {"board-rocks", "The board rocks on two corners. Press it flat.", Severity::warning}};
  const PdfFile pdf(sheet_of(r, sample::full_setup()));
  const std::string a = pdf.text(1), b = pdf.text(2);
  for (const std::string& page : {a, b}) {
    CHECK(has(page, "LOOK FIRST, BEFORE YOU CUT"));
    CHECK(has(page, "The model reaches beyond the board; check unit."));
    CHECK(has(page, "Press it flat."));
    CHECK_FALSE(has(page, "8 edges"));
    CHECK(has(page, "1 more remark about the mesh files"));
  }
  CHECK_FALSE(has(a, "every bit touches Z zero again at x 1.0"));
  CHECK(has(b, "every bit touches Z zero again at x 1.0"));
  CHECK(a.find("The model reaches") < a.find("The board rocks")); // doubts first
  CHECK(has(pdf.text(3), "The model reaches beyond the board"));  // the overlay too
  CHECK_FALSE(has(pdf.text(3), "Press it flat"));
  CHECK(faults(pdf, 595.276, 841.89) == "");
}

TEST_CASE("no wall proven: every page of the sheet says not to cut") {
  CheckReport r = with_pad();
  r.wall.verdict = Verdict::unproven;
  r.pad.reset();
  r.warnings = {
      {"hole", "The skin has a hole of 12.0 mm. No wall was measured there.", Severity::unproven}};
  for (const PaperSize size : {PaperSize::a4, PaperSize::letter}) {
    const PdfFile pdf(sheet_of(r, sample::full_setup(), {size, false}));
    REQUIRE(pdf.pages() == 4);
    for (int page = 1; page <= 4; ++page) {
      CHECK(has(pdf.text(page), "DO NOT CUT FROM THIS SHEET: NO WALL IS PROVEN"));
      CHECK(has(pdf.text(page), "The skin has a hole of 12.0 mm."));
      CHECK(has(pdf.text(page), "LOOK FIRST: no wall is proven."));
    }
  }
}

TEST_CASE("more notices than a page holds: the heaviest are shown, the others counted") {
  CheckReport r = with_pad();
  r.warnings = {
      {"touch-cut-away", "Side A: the last in weight.", Severity::warning, NoticeAbout::side_a}};
  for (int i = 0; i < 30; ++i)
    r.warnings.push_back({"doubt-" + std::to_string(i),
                          "Doubt " + std::to_string(i) +
                              " goes on for longer than one line of the sheet has room for, so "
                              "that all of them together cannot stand on it. And it has more to "
                              "say than one sentence.",
                          Severity::doubt});
  for (const bool inch : {false, true}) {
    const PdfFile pdf(sheet_of(r, sample::full_setup(), {PaperSize::letter, inch}));
    CHECK(has(pdf.text(1), "Doubt 0 goes on"));
    CHECK(has(pdf.flat(1), "more: read the warnings of the report before you cut."));
    CHECK(faults(pdf, 612, 792) == "");
  }
}

TEST_CASE("a place that no one can touch is not printed, and why is") {
  Setup setup = sample::full_setup();
  setup.outer.touch_point = Point2{-60, 90}; // on the bed, and the board lies there
  setup.inner.touch_point = Point2{-76, 0};  // on top, and the board ends at -70
  const PdfFile pdf(sheet_of(with_pad(), setup));
  for (int page = 1; page <= 2; ++page) {
    CHECK(has(pdf.flat(page), "NO PLACE TO TOUCH"));
    CHECK_FALSE(has(pdf.text(page), "TOUCH Z AT"));
  }
  CHECK_FALSE(has(pdf.flat(1), "-76.00"));
  CHECK_FALSE(has(pdf.flat(2), "Y 90.00"));
  CHECK(has(pdf.flat(1), "The board does not reach so far"));
  CHECK(has(pdf.flat(2), "The board lies on the bed there"));
  for (int page = 3; page <= 4; ++page)
    CHECK_FALSE(has(pdf.text(page), "TOUCH Z"));
  // Not stated: the middle of the board lies under it.
  setup.outer.touch_point.reset();
  CHECK(has(PdfFile(sheet_of(with_pad(), setup)).flat(2),
            "No point is stated, and the middle cannot serve. "));
  CHECK_FALSE(has(PdfFile(sheet_of(with_pad(), setup)).flat(2), "TOUCH Z AT"));
}

TEST_CASE("no pad is printed that would tell nothing or has no room") {
  for (const PadUse use : {PadUse::tells_nothing, PadUse::no_room}) {
    CheckReport r = with_pad();
    r.pad->use = use;
    const PdfFile pdf(sheet_of(r, sample::full_setup()));
    for (int page = 1; page <= 2; ++page) {
      CHECK(has(pdf.text(page), "NO WITNESS PAD"));
      CHECK(has(pdf.flat(page),
                use == PadUse::no_room ? "no room for a witness pad" : "would tell nothing"));
      CHECK_FALSE(has(pdf.text(page), "Z shift ="));
      CHECK_FALSE(has(pdf.text(page), "-88.0"));
    }
    CHECK_FALSE(has(pdf.text(3), "pad"));
  }
}

TEST_CASE("the pad has its true size on the overlay") {
  CheckReport r = with_pad();
  r.pad->x_mm = 55;
  r.pad->y_mm = -60;
  r.box = Box{}; // no outline of the piece crosses it
  r.box.add(Vec3{-20, -30, -10});
  r.box.add(Vec3{20, 30, 0});
  const PdfFile pdf(sheet_of(r, sample::full_setup()));
  CHECK(has(pdf.text(3), "pad"));
  // Two upright strokes 15 mm apart, 15 mm long, and none between them.
  const sample::GreyPage page = pdf.picture(3);
  int found = 0;
  for (int y = 300; y < page.height - 300; ++y)
    for (int x = 0; x + 160 < page.width; ++x) {
      const int first = x;
      while (x < page.width && page.dark(x, y))
        ++x;
      if (x - first > 150 && x - first < 160)
        ++found; // the upper and lower edge, some 0.5 mm of ink each, 15.5 mm long
    }
  CHECK(found >= 6);
  CHECK(found <= 14);
}

TEST_CASE("dowels that no one placed are not given as if they were known") {
  CheckReport r = sample::bare_report();
  r.box.add(Vec3{-20, -30, -10});
  r.box.add(Vec3{20, 30, 0});
  Setup setup = sample::full_setup();
  CHECK_FALSE(has(PdfFile(sheet_of(r, setup)).flat(1), "Where they stand is not stated"));
  setup.board.footprint.reset();
  CHECK(has(PdfFile(sheet_of(r, setup)).flat(1), "Where they stand is not stated: taken beside"));
  setup.flip.dowels->middle = Point2{5, 0};
  CHECK_FALSE(has(PdfFile(sheet_of(r, setup)).flat(1), "Where they stand is not stated"));
}
