#include "report/sheet/section_page.h"

#include "base/errors.h"
#include "base/maths/angles.h"
#include "report/draw/free_places.h"
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
#include <tuple>

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

  /// What labels must not hide: lines of that thickness. `parts`: they part the drawing.
  void keep_clear(FreePlaces& free, const SectionPieces& pieces, double thick, bool parts,
                  const SectionPoint& moved = {}) const {
    for (const auto& [a, b] : pieces)
      free.keep_clear(point({a.along_mm + moved.along_mm, a.z_mm + moved.z_mm}),
                      point({b.along_mm + moved.along_mm, b.z_mm + moved.z_mm}), thick / 2, parts);
  }

  LabelBox frame() const { return {left_ + 1, top_ + 1, left_ + width_ - 1, top_ + kView - 1}; }

  double label_width(const std::string& words, const Ink& ink) const {
    return paper_.text_width(words, ink) + 2;
  }
  static double label_height(const Ink& ink) { return ink.size_pt * 0.42; }

  /// Words on a white ground.
  void label(const std::string& words, const LabelBox& box, const Ink& ink) const {
    Ink own = ink;
    own.align = Align::centre;
    paper_.fill(box.left, box.top, box.right - box.left, label_height(ink), kWhite);
    paper_.text(words, (box.left + box.right) / 2, box.top + ink.size_pt * 0.3, own);
  }

 private:
  SheetPaper& paper_;
  double left_, top_, width_;
  SectionPoint middle_;
  double scale_; ///< mm of the page for each mm
};

LabelBox box_about(PicturePoint middle, double width, double height) {
  return {middle.x - width / 2, middle.y - height / 2, middle.x + width / 2, middle.y + height / 2};
}

/// The wall, what lies on either side of it, and a bar of a round length, where they hide nothing.
void draw_labels(SheetPaper& paper, const View& view, FreePlaces& free,
                 const SectionPictureInput& shown, const WallSection& section, double scale,
                 const LengthText& words) {
  const double limit = shown.report.wall.limit_mm;
  constexpr Ink kWall{14, true, Align::left, kBlack};
  const PicturePoint on_pocket = view.point(section.on_pocket),
                     on_skin = view.point(section.on_skin);
  const std::string wall = words.wall(section.wall_mm, limit);
  const double wide = view.label_width(wall, kWall), high = View::label_height(kWall);
  // Beside the wall's line, not on it: shown even where no place is free.
  const PicturePoint beside{(on_pocket.x + on_skin.x) / 2 + 6 + wide / 2,
                            (on_pocket.y + on_skin.y) / 2};
  view.label(wall, free.place(beside, wide, high).value_or(box_about(beside, wide, high)), kWall);
  const SectionPoint way = section.out;
  const double height = kView / scale;
  for (const auto& [from, sign, name] :
       {std::tuple{section.on_pocket, -1.0, shown.inner}, {section.on_skin, 1.0, shown.outer}}) {
    const auto away = [&, from = from, sign = sign](double share) {
      return view.point({from.along_mm + way.along_mm * sign * share * height,
                         from.z_mm + way.z_mm * sign * share * height});
    };
    const std::string text = name == "skin" ? "outside" : name;
    // On its own side of the wall, or not at all: the lines are told below.
    if (const auto box = free.place(away(0.3), view.label_width(text, kBody),
                                    View::label_height(kBody), away(0.02)))
      view.label(text, *box, kBody);
  }
  const LabelBox frame = view.frame();
  const double bar = round_length((frame.right - frame.left) / 5 / scale, words.inch);
  const std::string length = words.length(bar, words.inch ? 2 : bar >= 1 ? 0 : 1);
  const double bar_wide = std::max(bar * scale, view.label_width(length, kBody)),
               bar_high = View::label_height(kBody) + 2.4;
  const PicturePoint corner{frame.left + 3 + bar_wide / 2, frame.bottom - 2 - bar_high / 2};
  const LabelBox at =
      free.place(corner, bar_wide, bar_high).value_or(box_about(corner, bar_wide, bar_high));
  view.label(length, at, kBody);
  paper.fill((at.left + at.right - bar * scale) / 2, at.bottom - 1.4, bar * scale, 1.4, kBlack);
}

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
  FreePlaces free(view.frame());
  view.keep_clear(free, section.pocket, 2 * limit * scale, false);
  view.keep_clear(free, section.pocket, kThick + 1, true);
  view.keep_clear(free, section.skin, kThick + 1, true);
  view.keep_clear(free, section.skin, kThin + 1, false,
                  {-way.along_mm * nearer, -way.z_mm * nearer});
  free.keep_clear(wall[0], wall[1], 2);
  draw_labels(paper, view, free, shown, section, scale, words);
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
    top = paper.paragraph(fmt::format("The wall that decides: {}.", shown.report.one_of
                                                                        ? shown.report.one_of->wall
                                                                        : shown.report.title),
                          left, top, width, {11, true, Align::left, kBlack}, 2);
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
