#include "report/section/mend_picture.h"

#include "base/errors.h"
#include "base/text/shorten_middle.h"
#include "base/text/wrap_text.h"
#include "report/draw/wall_pixels.h"
#include "report/draw/wall_section.h"
#include "report/maps/heat_map_layout.h"
#include "report/section/section_view.h"
#include "report/words/length_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <tuple>
#include <vector>

namespace leastwall {
namespace {

constexpr int kWidth = 2400, kMargin = 60, kPanel = 740, kGap = 30, kTop = 190;
constexpr int kMostPanelHeight = 900, kSectionHeight = 760;
constexpr Rgb kOld{150, 150, 150}, kNew{0, 70, 160}, kBand{250, 222, 160}, kText{30, 30, 30};
constexpr Rgb kMoved{170, 40, 0}, kStays{232, 232, 232};
constexpr double kUnit = 0.8; // of hatching

struct Walls {
  WallGrid expected, worst;
};

Walls walls_of(const MendPictureInput::Wall& wall, const WallGrid& frame) {
  Walls out{frame, frame};
  const std::vector<WallLayer> layers{{wall.expected_mm, &out.expected},
                                      {wall.worst_mm, &out.worst}};
  rasterise_wall(wall.wall.skin, layers);
  return out;
}

Rgb mixed(Rgb from, Rgb to, double part) {
  const auto channel = [part](std::uint8_t a, std::uint8_t b) {
    return static_cast<std::uint8_t>(std::lround(a + (b - a) * part));
  };
  return {channel(from.r, to.r), channel(from.g, to.g), channel(from.b, to.b)};
}

/// How far the pocket's surface went, as colour over the piece in grey.
PixelImage change(const MendPictureInput& input, const WallGrid& piece) {
  WallMap map;
  std::vector<double> back_mm; // of several layers the one that went farthest is kept
  for (std::size_t v = 0; v < input.new_pocket.vertices.size(); ++v) {
    map.samples.push_back({input.new_pocket.vertices[v], {}, 0});
    back_mm.push_back(-input.moved_mm[v]);
  }
  for (const Tri& t : input.new_pocket.triangles)
    if (std::ranges::any_of(t, [&](std::uint32_t v) { return input.moved_mm[v] > 0; }))
      map.cells.push_back(t);
  WallGrid moved = piece;
  rasterise_wall(map, back_mm, moved);
  const double most = std::max(input.report.largest_mm, 1e-3);
  PixelImage out{piece.width, piece.height, std::vector<Rgb>(piece.value.size(), kWhite)};
  for (std::size_t i = 0; i < out.pixels.size(); ++i)
    if (moved.value[i] < 0)
      out.pixels[i] = mixed(kStays, kMoved, 0.2 + 0.8 * std::min(1.0, -moved.value[i] / most));
    else if (!std::isnan(piece.value[i]))
      out.pixels[i] = kStays;
  return out;
}

/// The section: skin, both pockets and the limit, at a scale at which the limit is easily seen.
class Section {
 public:
  Section(Picture& picture, const MendPictureInput& input, double left, double top, double width,
          double height)
      : input_(input),
        plane_(plane_along(input.before.wall.least.skin, input.before.wall.least.n)) {
    const double across = std::max({8 * input.report.limit_mm, 8 * input.report.largest_mm, 4.0});
    view_.emplace(picture, SectionView::Frame{left, top, width, height,
                                              plane_.point(plane_.through), height / across});
    band_px_ = 2 * input.report.limit_mm * height / across;
  }

  void draw(const LengthText& words) {
    view_->begin();
    const SectionPieces skin = mesh_section(input_.skin, plane_);
    view_->lines(skin, {band_px_, kBand, 0, kWhite});
    view_->lines(mesh_section(input_.old_pocket, plane_), {10, kOld, 0, kWhite});
    view_->lines(mesh_section(input_.new_pocket, plane_), {6, kNew, 0, kWhite});
    view_->lines(skin, {8, kBlack, 0, kWhite});
    const WallPlace& least = input_.before.wall.least;
    view_->wall(plane_.point(least.pocket), plane_.point(least.skin), kMoved);
    view_->end();
    view_->scale_bar(words);
  }

  /// Where the plane runs, in the plan.
  PicturePoint direction() const { return {plane_.dx, plane_.dy}; }

 private:
  const MendPictureInput& input_;
  SectionPlane plane_;
  std::optional<SectionView> view_;
  double band_px_ = 0;
};

} // namespace

std::string draw_mend_picture(const MendPictureInput& input, bool inch) {
  const Box box = cell_box(input.before.wall.skin);
  if (box.empty())
    throw RunError("picture of the change: no wall was measured, so there is nothing to draw");
  const LengthText words{inch};
  const MendReport& report = input.report;
  // What all three panels show.
  const WallGrid frame = grid_about(box, kPanel, kMostPanelHeight, 20);
  const int under = kTop + frame.height, section_top = under + 210;
  Picture picture(kWidth, section_top + kSectionHeight + 150);
  TextStyle title{52, kBlack, Align::left, true, {}};
  title.size *=
      std::clamp((kWidth - 2.0 * kMargin) / picture.text_width(input.title, title), 0.6, 1.0);
  picture.text(shorten_middle(printable(input.title),
                              [&](const std::string& shorter) {
                                return picture.text_width(shorter, title) <= kWidth - 2 * kMargin;
                              }),
               kMargin, 80, title);
  picture.text(fmt::format("{} mended: at most {} moved, {} of its surface, {:.2f} mm3 less "
                           "room. Seen from the pocket face.",
                           report.pocket, words.length(report.largest_mm),
                           words.area(report.area_mm2), report.volume_mm3),
               kMargin, 140, {34, kText, Align::left, false, {}});
  const Walls before = walls_of(input.before, frame), after = walls_of(input.after, frame);
  const PixelImage images[] = {wall_pixels(before.expected, before.worst, report.limit_mm, kUnit),
                               wall_pixels(after.expected, after.worst, report.limit_mm, kUnit),
                               change(input, before.expected)};
  const std::string names[] = {"BEFORE", "MENDED", "CHANGE"};
  const std::string notes[] = {
      fmt::format("least wall {} expected, {} at worst", words.length(report.before.expected_mm),
                  words.length(report.before.worst_mm)),
      fmt::format("least wall {} expected, {} at worst", words.length(report.after.expected_mm),
                  words.length(report.after.worst_mm)),
      fmt::format("grey: as it was; darkest: moved by {}", words.length(report.largest_mm))};
  const Vec3 worst = input.before.wall.least.skin;
  Section section(picture, input, kMargin, section_top, kWidth - 2 * kMargin, kSectionHeight);
  for (int i = 0; i < 3; ++i) {
    const int left = kMargin + i * (kPanel + kGap);
    picture.image(images[i], left, kTop);
    const auto px = [&](double x) { return left + (x - frame.left_mm) / frame.mm_per_px; };
    const auto py = [&](double y) { return kTop + (frame.top_mm - y) / frame.mm_per_px; };
    picture.clip(left, kTop, kPanel, frame.height);
    const PicturePoint way = section.direction();
    picture.line({{px(worst.x) - 2000 * way.x, py(worst.y) + 2000 * way.y},
                  {px(worst.x) + 2000 * way.x, py(worst.y) - 2000 * way.y}},
                 {3, kBlack, 2, kWhite});
    picture.disc(px(worst.x), py(worst.y), 12, kWhite, 5, kBlack);
    picture.unclip();
    picture.text(names[i], left, under + 52, {44, kBlack, Align::left, true, {}});
    TextStyle note{32, kText, Align::left, false, {}};
    note.size *= std::min(1.0, kPanel / picture.text_width(notes[i], note));
    picture.text(notes[i], left, under + 98, note);
  }
  picture.text(
      fmt::format("Section along the line, through the place that was thinnest as drawn: {}",
                  words.place(worst)),
      kMargin, section_top - 28, {36, kBlack, Align::left, true, {}});
  section.draw(words);
  const double key = section_top + kSectionHeight + 60;
  const std::tuple<Rgb, double, std::string> keys[] = {
      {kBlack, 8, "skin"},
      {kBand, 26, fmt::format("within the limit of {} of it", words.length(report.limit_mm))},
      {kOld, 10, "pocket before"},
      {kNew, 6, "pocket mended"},
      {kMoved, 5,
       fmt::format("the least wall as drawn: {}", words.length(report.before.design_mm))}};
  double x = kMargin;
  for (const auto& [colour, width, text] : keys) {
    const TextStyle style{32, kText, Align::left, false, {}};
    picture.line({{x, key - 10}, {x + 60, key - 10}}, {width, colour, 0, kWhite});
    picture.text(text, x + 76, key, style);
    x += 76 + picture.text_width(text, style) + 50;
  }
  picture.text("Advice, never a guarantee. Paths of the cutter are not in it.", kMargin, key + 56,
               {30, kText, Align::left, false, {}});
  return picture.file();
}

} // namespace leastwall
