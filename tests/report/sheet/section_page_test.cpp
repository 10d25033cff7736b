// The page of the thinnest place, read back from outside (poppler-utils).
#include "report/sheet/section_page.h"

#include "base/errors.h"
#include "report/sample_setups.h"
#include "report/sample_walls.h"
#include "report/sheet/pdf_tools.h"
#include "support/shapes.h"

#include <cmath>
#include <doctest/doctest.h>
#include <fmt/format.h>

using namespace leastwall;
using sample::PdfFile;

namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// A box in a box: floor 1 mm thick, expected 0.05 and at worst 0.3 mm less.
struct Boxes {
  WallMeasurement wall;
  std::vector<double> expected, worst;
  std::size_t floor = 0;
  CheckReport report = sample::bare_report();
  Setup setup = sample::full_setup();

  /// `skin_z_mm`: of the skin's floor, under the pocket's at -6.
  explicit Boxes(double skin_z_mm = -7) {
    MeasureOptions options;
    options.ceiling_mm = 3;
    wall = measure_wall(shapes::box({-20, -20, -6}, {20, 20, 0}),
                        shapes::box({-25, -25, skin_z_mm}, {25, 25, 0}), options, {});
    report.title = "box in a box";
    report.wall.limit_mm = 0.8;
    report.box.add(Vec3{-25, -25, -7});
    report.box.add(Vec3{25, 25, 0});
    for (const WallSample& s : wall.skin.samples) {
      expected.push_back(s.wall_mm - 0.05);
      worst.push_back(s.wall_mm - 0.3);
    }
    while (length(wall.skin.samples[floor].at - Vec3{3, 4, skin_z_mm}) > 4)
      ++floor;
  }

  std::string pdf(bool inch = false) const {
    const SectionPictureInput section{wall, expected, worst, floor, report};
    SetupSheetInput input{report, setup};
    input.section = &section;
    SheetPaper paper(PaperSize::a4, "test");
    draw_section_page(paper, input, "Page 3 of 5.", inch);
    return paper.file();
  }
};

} // namespace

TEST_CASE(
    "the page of the thinnest place has its four walls, its depth and its place on each side") {
  const Boxes boxes;
  const PdfFile pdf(boxes.pdf());
  const std::string text = pdf.flat(1);
  for (const char* words :
       {"SECTION AT THE THINNEST PLACE", "box in a box", "1.000 mm", "0.950 mm", "0.700 mm",
        "0.800 mm", "7.0 mm below the pocket face", "outside", "pocket", "never a guarantee"})
    CHECK_MESSAGE(has(text, words), std::string(words));
  const Vec3 at = boxes.wall.skin.samples[boxes.floor].at;
  // The flip line is x = 5: side B sees 10 - x.
  CHECK(has(text, fmt::format("side A up it lies at X {:.1f} Y {:.1f}.", at.x, at.y)));
  CHECK(has(text, fmt::format("side B up it lies at X {:.1f} Y {:.1f}.", 10 - at.x, at.y)));
  CHECK(sample::faults(pdf, 595.276, 841.89) == "");
  CHECK(has(PdfFile(boxes.pdf(true)).flat(1), "0.0394 in (1.000 mm)")); // 1 / 25.4
  CHECK(boxes.pdf() == boxes.pdf());
}

TEST_CASE("wall, limit and worst case of the section are drawn to one scale") {
  const Boxes boxes;
  const sample::GreyPage page = PdfFile(boxes.pdf()).picture(1);
  // 128 mm of paper for six times the wall of 1 mm, ten pixels a mm: the floor's lines lie level.
  const double px_per_mm = 10 * 128.0 / 6;
  const int x = page.width / 4; // beside the wall's dimension and its label
  std::vector<double> lines;    // middles of what is drawn dark, from above
  for (int y = 480; y < 1650; ++y) {
    const int first = y;
    while (y < page.height && page.dark(x, y))
      ++y;
    if (y > first && y - first < 20)
      lines.push_back((first + y - 1) / 2.0);
  }
  // Pocket floor (grey, but darker than half), skin at worst, skin.
  REQUIRE(lines.size() == 3);
  CHECK(lines[2] - lines[0] == doctest::Approx(1.0 * px_per_mm).epsilon(0.02));
  CHECK(lines[2] - lines[1] == doctest::Approx(0.3 * px_per_mm).epsilon(0.04));
}

TEST_CASE("a section without a wall is no page") {
  const Boxes boxes;
  SectionPictureInput section{boxes.wall, boxes.expected, boxes.worst,
                              boxes.wall.skin.samples.size(), boxes.report};
  SetupSheetInput input{boxes.report, boxes.setup};
  input.section = &section;
  SheetPaper paper(PaperSize::a4, "test");
  CHECK_THROWS_AS(draw_section_page(paper, input, "", false), RunError);
}

TEST_CASE("labels of the section lie over no line and over no other label") {
  for (const double skin_z_mm : {-7.0, -6.3, -5.5, -2.0}) { // thick, thin, cut through, far through
    CAPTURE(skin_z_mm);
    const Boxes boxes(skin_z_mm);
    const std::string pdf = boxes.pdf();
    CHECK(sample::faults(PdfFile(pdf), 595.276, 841.89) == "");
    const sample::GreyPage page = PdfFile(pdf).picture(1);
    const double px = 10 * 25.4 / 72; // of a point, ten pixels a mm
    std::vector<sample::Word> labels; // a number with its unit is one
    for (const sample::Word& w : PdfFile(pdf).words())
      if (w.top > 116 && w.bottom < 478) { // where the section stands
        if (w.text == "mm" && !labels.empty())
          labels.back().right = w.right;
        else
          labels.push_back(w);
      }
    CHECK(labels.size() >= 3);
    for (const sample::Word& w : labels) {
      CAPTURE(w.text);
      // Beside its white ground, 1 mm wide, nothing is drawn: a hidden line would come out there.
      int dark = 0;
      for (int y = static_cast<int>(w.top * px) + 8; y < w.bottom * px - 8; ++y)
        for (const double x : {w.left * px - 13, w.right * px + 13})
          dark += page.dark(static_cast<int>(x), y) ? 1 : 0;
      CHECK(dark == 0);
    }
  }
}
