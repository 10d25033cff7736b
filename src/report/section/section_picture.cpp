#include "report/section/section_picture.h"

#include "base/errors.h"
#include "base/text/shorten_middle.h"
#include "base/text/wrap_text.h"
#include "report/draw/rasterise_wall.h"
#include "report/draw/wall_pixels.h"
#include "report/draw/wall_section.h"
#include "report/maps/heat_map_layout.h"
#include "report/section/section_view.h"
#include "report/words/length_text.h"
#include "report/words/verdict_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <tuple>
#include <vector>

namespace leastwall {
namespace {

constexpr int kWidth = 1600, kHeight = 1236, kMargin = 50;
constexpr double kTop = 190, kViewWidth = 1020, kViewHeight = 800; // px
constexpr double kSideLeft = kMargin + kViewWidth + 40, kSideWidth = kWidth - kMargin - kSideLeft;
constexpr double kPlanHeight = 420;
constexpr Rgb kSkin{0, 0, 0}, kPocket{0, 70, 160}, kBand{250, 222, 160}, kWorst{170, 40, 0};
constexpr Rgb kText{30, 30, 30};

/// `pieces` moved along the plane and up.
SectionPieces moved(SectionPieces pieces, const SectionPoint& by) {
  for (auto& piece : pieces)
    for (SectionPoint& p : piece) {
      p.along_mm += by.along_mm;
      p.z_mm += by.z_mm;
    }
  return pieces;
}

/// What lies on either side of a wall, and how thick it is, where that hides nothing.
void draw_labels(Picture& picture, const SectionView& view, FreePlaces& free,
                 const SectionPictureInput& input, const WallSection& section, double height_mm,
                 const LengthText& words) {
  const auto put = [&](const std::string& text, const TextStyle& style, PicturePoint wanted,
                       const std::optional<PicturePoint>& beside) {
    const double width = picture.text_width(text, style) + 12, height = style.size * 1.1;
    std::optional<LabelBox> box = free.place(wanted, width, height, beside);
    if (!box && !beside) // the wall is told in any case
      box = LabelBox{wanted.x - width / 2, wanted.y - height / 2, 0, wanted.y + height / 2};
    if (box)
      picture.text(text, box->left + 6, box->bottom - style.size * 0.25, style);
  };
  const std::string wall = words.wall(section.wall_mm, input.report.wall.limit_mm);
  const TextStyle strong{36, kBlack, Align::left, true, kWhite};
  const PicturePoint from = view.point(section.on_pocket), to = view.point(section.on_skin);
  put(wall, strong,
      {(from.x + to.x) / 2 + 28 + picture.text_width(wall, strong) / 2, (from.y + to.y) / 2}, {});
  const SectionPoint way = section.out;
  for (const auto& [end, sign, text] :
       {std::tuple{section.on_pocket, -1.0, input.inner},
        {section.on_skin, 1.0, input.outer == "skin" ? "outside" : input.outer}}) {
    const auto away = [&, end = end, sign = sign](double share) {
      return view.point({end.along_mm + way.along_mm * sign * share * height_mm,
                         end.z_mm + way.z_mm * sign * share * height_mm});
    };
    put(text, {34, kText, Align::left, false, kWhite}, away(0.22), away(0.02));
  }
}

void fitted(Picture& picture, const std::string& text, double x, double y, TextStyle style,
            double room) {
  style.size *= std::min(1.0, room / picture.text_width(text, style));
  picture.text(text, x, y, style);
}

/// The piece from above with the line of the cut.
void draw_plan(Picture& picture, const SectionPictureInput& input, const WallSection& section,
               double shown_mm) {
  WallGrid grid = grid_about(cell_box(input.wall.skin), static_cast<int>(kSideWidth),
                             static_cast<int>(kPlanHeight), 10);
  WallGrid worst = grid;
  const std::vector<WallLayer> layers{{input.expected_mm, &grid}, {input.worst_mm, &worst}};
  rasterise_wall(input.wall.skin, layers);
  picture.image(wall_pixels(grid, worst, input.report.wall.limit_mm, 0.7),
                static_cast<int>(kSideLeft), static_cast<int>(kTop));
  const auto px = [&](double x) { return kSideLeft + (x - grid.left_mm) / grid.mm_per_px; };
  const auto py = [&](double y) { return kTop + (grid.top_mm - y) / grid.mm_per_px; };
  const Vec3 at = section.plane.through;
  const double dx = section.plane.dx, dy = section.plane.dy, far = kSideWidth + kPlanHeight;
  picture.clip(kSideLeft, kTop, kSideWidth, grid.height);
  picture.line(
      {{px(at.x) - far * dx, py(at.y) + far * dy}, {px(at.x) + far * dx, py(at.y) - far * dy}},
      {3, kBlack, 2, kWhite});
  // What the section shows of the line.
  const double half = shown_mm / 2 / grid.mm_per_px, back = -half;
  picture.line(
      {{px(at.x) + back * dx, py(at.y) - back * dy}, {px(at.x) + half * dx, py(at.y) - half * dy}},
      {9, kWorst, 2, kWhite});
  picture.unclip();
  fitted(picture, "Where the section runs, pocket face up", kSideLeft, kTop - 16,
         {28, kText, Align::left, false, {}}, kSideWidth);
}

void draw_numbers(Picture& picture, const SectionPictureInput& input, const LengthText& words) {
  const CheckReport& report = input.report;
  const double limit = report.wall.limit_mm;
  const std::array<std::pair<std::string, std::string>, 4> rows{{
      {"wall as drawn", words.wall(input.wall.skin.samples[input.sample].wall_mm, limit)},
      {"expected", words.wall(input.expected_mm[input.sample], limit)},
      {"at worst here", words.wall(input.worst_mm[input.sample], limit)},
      {"limit", words.length(limit)},
  }};
  double y = kTop + kPlanHeight + 70;
  for (const auto& [name, value] : rows) {
    picture.text(name, kSideLeft, y, {30, kText, Align::left, false, {}});
    fitted(picture, value, kSideLeft, y + 46, {44, kBlack, Align::left, true, {}}, kSideWidth);
    y += 98;
  }
}

void draw_key(Picture& picture, const LengthText& words, const SectionPictureInput& input,
              double y) {
  const double limit_mm = input.report.wall.limit_mm;
  const std::tuple<Rgb, double, std::string> keys[] = {
      {kSkin, 8, input.outer},
      {kPocket, 8, input.inner},
      {kBand, 26,
       fmt::format("within the limit, {}, of the {}: no {} may lie there", words.length(limit_mm),
                   input.inner, input.outer)},
      {kWorst, 4, fmt::format("{} as near as errors may bring it at this place", input.outer)},
  };
  double x = kMargin;
  for (const auto& [colour, width, text] : keys) {
    const TextStyle style{28, kText, Align::left, false, {}};
    const double needs = 70 + picture.text_width(text, style) + 40;
    if (x > kMargin && x + needs > kWidth - kMargin) {
      x = kMargin;
      y += 46;
    }
    picture.line({{x, y - 10}, {x + 54, y - 10}}, {width, colour, 0, kWhite});
    picture.text(text, x + 70, y, style);
    x += needs;
  }
  picture.text("Meshes as drawn. Advice, never a guarantee.", kMargin, y + 50,
               {28, kText, Align::left, false, {}});
}

} // namespace

std::string draw_section_picture(const SectionPictureInput& input, bool inch) {
  const WallMap& map = input.wall.skin;
  if (map.cells.empty() || input.sample >= map.samples.size())
    throw RunError("section: no wall was measured, so there is nothing to draw");
  const LengthText words{inch};
  const double limit = input.report.wall.limit_mm;
  const WallSample& at = map.samples[input.sample];
  const double height = section_height_mm(limit, at.wall_mm);
  const double width = height * kViewWidth / kViewHeight;
  // Wider than what is shown: a line that is moved must not end within the frame.
  const WallSection section = wall_section(input.wall, at, 2 * width, 2 * height);
  Picture picture(kWidth, kHeight);
  const double room = kWidth - 2 * kMargin;
  const TextStyle title{42, kBlack, Align::left, true, {}};
  constexpr double kLeast = 0.62; // of the title's size
  const std::string end = input.report.one_of ? ", " + input.report.one_of->wall : std::string();
  fitted(picture,
         shorten_before(printable(input.report.title), printable(end),
                        [&](const std::string& shorter) {
                          return kLeast * picture.text_width(shorter, title) <= room;
                        }),
         kMargin, 66, title, room);
  fitted(picture,
         fmt::format("{}. Section through the thinnest place: {}",
                     verdict_headline(input.report).banner, words.place(at.at)),
         kMargin, 120, {34, kBlack, Align::left, false, {}}, room);
  const double px_per_mm = kViewHeight / height;
  SectionView view(picture, {kMargin, kTop, kViewWidth, kViewHeight, section.middle(), px_per_mm});
  view.begin();
  view.lines(section.pocket, {2 * limit * px_per_mm, kBand, 0, kWhite});
  const double nearer = at.wall_mm - input.worst_mm[input.sample]; // towards the pocket
  const SectionPoint way = section.out;
  view.lines(moved(section.skin, {-way.along_mm * nearer, -way.z_mm * nearer}),
             {4, kWorst, 0, kWhite});
  view.lines(section.pocket, {8, kPocket, 0, kWhite});
  view.lines(section.skin, {8, kSkin, 0, kWhite});
  view.wall(section.on_pocket, section.on_skin, kWorst);
  FreePlaces free(view.inside());
  view.keep_clear(free, section.pocket, 2 * limit * px_per_mm, false);
  view.keep_clear(free, section.pocket, 14, true);
  view.keep_clear(free, section.skin, 14, true);
  view.keep_clear(free, moved(section.skin, {-way.along_mm * nearer, -way.z_mm * nearer}), 8,
                  false);
  view.keep_clear(free, {{section.on_pocket, section.on_skin}}, 20, false);
  draw_labels(picture, view, free, input, section, height, words);
  view.end();
  view.scale_bar(words, &free);
  draw_plan(picture, input, section, width);
  draw_numbers(picture, input, words);
  draw_key(picture, words, input, kTop + kViewHeight + 60);
  return picture.file();
}

} // namespace leastwall
