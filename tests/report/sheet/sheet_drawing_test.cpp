#include "report/sheet/sheet_drawing.h"

#include "report/sample_setups.h"
#include "report/sample_walls.h"
#include "report/sheet/pdf_tools.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

/// For a touch point at 0, 0 on paper of full size, and dowels at these places.
PicturePoint way_beside(std::vector<Point2> dowels) {
  SideMarks marks;
  marks.dowels = std::move(dowels);
  return bit_way(PaperFrame{}, marks);
}

bool same(PicturePoint a, PicturePoint b) {
  return a.x == b.x && a.y == b.y;
}

} // namespace

TEST_CASE("the bit at the touch point is drawn where it covers no dowel") {
  // Drawn 4.6 mm long and 4.4 mm wide, 0.2 mm of air round it; a dowel's cross reaches 2.8 mm.
  const PicturePoint up{0, -1}, right{1, 0}, left{-1, 0}, down{0, 1}; // y runs down on paper
  CHECK(same(way_beside({}), up));
  CHECK(same(way_beside({{0, 7.7}}), up)); // model y runs up
  CHECK(same(way_beside({{0, 7.5}}), right));
  CHECK(same(way_beside({{0, 7.5}, {7.5, 0}}), left));
  CHECK(same(way_beside({{5.1, 0}}), left)); // the cross reaches under the bit
  CHECK(same(way_beside({{5.3, 0}}), up));
  CHECK(same(way_beside({{0, 4}}), down));
  CHECK(same(way_beside({{0, 0}}), up)); // nowhere free
}

TEST_CASE("long names of parts and holes stay inside the drawing, cut where they must be") {
  const std::string name = "the lower half of the lantern with all of its ribs and the ember room";
  const CheckReport report = sample::full_report();
  const Setup setup = sample::full_setup();
  const PartMark parts[] = {{"half", {{-60, -40}, {40, 40}}}, {name, {{50, -40}, {58, 40}}}};
  const HoleMark holes[] = {{name, {58, 0}, 4}};
  SetupSheetInput input{report, setup};
  input.parts = parts;
  input.holes = holes;
  SheetPaper paper(PaperSize::a4, "names");
  const LabelBox room{15, 40, 140, 200}; // mm
  draw_board(paper, input, Side::a, room, 0);
  const sample::PdfFile pdf(paper.file());
  constexpr double kPoint = 25.4 / 72;
  int cut = 0;
  for (const sample::Word& w : pdf.words()) {
    CAPTURE(w.text);
    CHECK(w.left * kPoint > room.left - 0.5);
    CHECK(w.right * kPoint < room.right + 0.5);
    cut += w.text.find("...") != std::string::npos ? 1 : 0;
  }
  CHECK(cut == 2);
  CHECK(pdf.flat(1).find("half") != std::string::npos);
  CHECK(pdf.flat(1).find("the") != std::string::npos);
}

TEST_CASE("a name that is too wide keeps its end, which tells walls of one part apart") {
  SheetPaper paper(PaperSize::a4, "names");
  const Ink ink{11, false, Align::left, kBlack};
  const std::string name = "die rechte Hälfte, spiegelverkehrt: skin to candle room";
  const std::string cut = paper.shortened(name, ink, 60);
  CHECK(paper.text_width(cut, ink) <= 60);
  CHECK(paper.text_width(cut, ink) > 50);
  CHECK(cut.starts_with("die rechte"));
  CHECK(cut.ends_with("candle room"));
  CHECK(paper.shortened(name, ink, 200) == name);
}
