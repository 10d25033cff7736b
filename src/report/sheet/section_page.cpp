#include "report/sheet/section_page.h"

#include "base/errors.h"
#include "base/maths/angles.h"
#include "report/draw/round_length.h"
#include "report/draw/wall_section.h"
#include "report/sheet/sheet_blocks.h"
#include "report/sheet/sheet_text.h"
#include "report/words/length_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace leastwall {
namespace {

constexpr double kView = 128;                // height of the section, mm
constexpr Rgb kBand{205, 205, 205};          // the limit
constexpr Rgb kInner{120, 120, 120};         // the pocket's surface
constexpr double kThick = 1.1, kThin = 0.35; // mm
constexpr Ink kBody{11, false, Align::left, kBlack};

/// A window of the plane on the page.
class View {
 public:
  View(SheetPaper& paper, double left, double top, double width, const SectionPoint& middle,
       double scale)
      : paper_(paper), left_(left), top_(top), width_(width), middle_(middle), scale_(scale) {}

  PicturePoint point(const SectionPoint& p) const {
    return {left_ + width_ / 2 + (p.along_mm - middle_.along_mm) * scale_,
            top_ + kView / 2 - (p.z_mm - middle_.z_mm) * scale_};
  }

  void lines(const SectionPieces& pieces, double thick, Rgb colour,
             const SectionPoint& moved = {}) const {
    for (const auto& piece : pieces) {
      std::vector<PicturePoint> ends;
      for (const SectionPoint& end : piece)
        ends.push_back(point({end.along_mm + moved.along_mm, end.z_mm + moved.z_mm}));
      paper_.line(ends, {thick, {}, colour});
      for (const PicturePoint& end : ends) // round joints
        paper_.disc(end.x, end.y, thick / 2, colour);
    }
  }

  /// Words on a white ground, their middle at p.
  void label(const std::string& words, const PicturePoint& p, const Ink& ink) const {
    Ink own = ink;
    own.align = Align::centre;
    const double half = paper_.text_width(words, own) / 2 + 1;
    paper_.fill(p.x - half, p.y - ink.size_pt * 0.3, 2 * half, ink.size_pt * 0.42, kWhite);
    paper_.text(words, p.x, p.y, own);
  }

 private:
  SheetPaper& paper_;
  double left_, top_, width_;
  SectionPoint middle_;
  double scale_; ///< mm of the page for each mm
};

/// Where the section runs, for there is no plan beside it.
std::string section_way(const SectionPlane& plane) {
  const double turn = maths::atan2(plane.dy, plane.dx) * 180 / std::numbers::pi;
  return fmt::format("The section runs to the right along a line that is turned by {:.0f} degrees "
                     "from x, side A up.",
                     turn);
}

/// What a line or shade of the drawing is.
struct Key {
  Rgb colour;
  double thick;
  std::string words;
};

double draw_keys(SheetPaper& paper, const std::array<Key, 4>& keys, double left, double width,
                 double top) {
  for (const Key& key : keys) {
    paper.line({{left, top + 2.6}, {left + 14, top + 2.6}}, {key.thick, {}, key.colour});
    top = paper.paragraph(key.words, left + 18, top, width - 18, kBody, 2) + 0.8;
  }
  return top;
}

} // namespace

void draw_section_page(SheetPaper& paper, const SetupSheetInput& input, const std::string& page,
                       bool inch) {
  const SectionPictureInput& shown = *input.section;
  const WallMap& map = shown.wall.skin;
  if (map.cells.empty() || shown.sample >= map.samples.size())
    throw RunError("setup sheet: no wall was measured, so there is no section to draw");
  const WallSample& at = map.samples[shown.sample];
  const double limit = shown.report.wall.limit_mm;
  const double worst = shown.worst_mm[shown.sample], expected = shown.expected_mm[shown.sample];
  const LengthText words{inch};
  SheetBlocks blocks{paper, input, inch};
  const double left = kSheetMargin, width = paper.width() - 2 * kSheetMargin;
  blocks.width = width;
  double top = blocks.head(shown.of_several ? "W" : "1", "SECTION AT THE THINNEST PLACE", page,
                           kSheetMargin) +
               2;

  const double height = section_height_mm(limit, at.wall_mm), scale = kView / height;
  // Wider than what is shown: a line that is moved must not end within the frame.
  const WallSection section = wall_section(shown.wall, at, 2 * height * width / kView, 2 * height);
  const View view(paper, left, top, width, section.middle(), scale);
  const SectionPoint way = section.out;
  const double nearer = at.wall_mm - worst; // towards the pocket
  paper.clip(left, top, width, kView);
  view.lines(section.pocket, 2 * limit * scale, kBand);
  view.lines(section.skin, kThin, kBlack, {-way.along_mm * nearer, -way.z_mm * nearer});
  view.lines(section.pocket, kThick, kInner);
  view.lines(section.skin, kThick, kBlack);
  const std::vector<PicturePoint> wall{view.point(section.on_pocket), view.point(section.on_skin)};
  paper.line(wall, {0.7, {}});
  for (const PicturePoint& end : wall)
    paper.disc(end.x, end.y, 1.6, kWhite, 0.7);
  const PicturePoint mid{(wall[0].x + wall[1].x) / 2, (wall[0].y + wall[1].y) / 2};
  view.label(words.wall(at.wall_mm, limit), {mid.x + 24, mid.y + 1.5},
             {14, true, Align::left, kBlack});
  for (const auto& [from, sign, name] :
       {std::tuple{section.on_pocket, -0.3, shown.inner}, {section.on_skin, 0.3, shown.outer}})
    view.label(name == "skin" ? "outside" : name,
               view.point({from.along_mm + way.along_mm * sign * height,
                           from.z_mm + way.z_mm * sign * height}),
               kBody);
  const double bar = round_length(width / 5 / scale, inch);
  paper.fill(left + 4, top + kView - 5, bar * scale, 1.4, kBlack);
  view.label(words.length(bar, inch       ? 2
                               : bar >= 1 ? 0
                                          : 1),
             {left + 4 + bar * scale / 2, top + kView - 7.5}, kBody);
  paper.unclip();
  paper.rectangle(left, top, width, kView, {0.4, {}});
  top += kView + 3;

  constexpr Ink kNumber{17, true, Align::left, kBlack};
  const std::array<std::pair<std::string, std::string>, 4> numbers{
      {{"as drawn", words.wall(at.wall_mm, limit)},
       {"expected", words.wall(expected, limit)},
       {"at worst here", words.wall(worst, limit)},
       {"limit", words.length(limit)}}};
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const double x = left + width * static_cast<double>(i) / 4;
    paper.text(numbers[i].first, x, top + 4, kBody);
    paper.text(numbers[i].second, x, top + 11.5,
               paper.fitted(numbers[i].second, kNumber, width / 4 - 3));
  }
  top += 16;
  top = draw_keys(paper,
                  {{{kBlack, kThick, fmt::format("{} as drawn", shown.outer)},
                    {kInner, kThick, fmt::format("{} as drawn", shown.inner)},
                    {kBand, 4,
                     fmt::format("within the limit, {}, of the {}: no {} may lie there",
                                 words.length(limit), shown.inner, shown.outer)},
                    {kBlack, kThin,
                     fmt::format("{} as near as all stated errors together may "
                                 "bring it at this place",
                                 shown.outer)}}},
                  left, width, top) +
        1.6;
  if (shown.of_several)
    top = paper.paragraph(fmt::format("The wall that decides: {}.", shown.report.title), left, top,
                          width, {11, true, Align::left, kBlack}, 2);
  for (const Side side : {Side::a, Side::b}) {
    const Point2 place = side_place(input.setup.flip, side, Point2{at.at.x, at.at.y});
    top = paper.paragraph(
        fmt::format("With side {} up it lies at {}.", side_letter(side), sheet_place(place, inch)),
        left, top, width, {11, true, Align::left, kBlack}, 2);
  }
  top = paper.paragraph(
      fmt::format(
          "The {} lies {} below the pocket face there. {} Cut the place in waste wood first "
          "and measure its wall.",
          shown.outer, words.length(shown.report.top_z_mm - at.at.z, 1),
          section_way(section.plane)),
      left, top, width, kBody, 3);
  blocks.cautions(top + 1.6);
}

} // namespace leastwall
