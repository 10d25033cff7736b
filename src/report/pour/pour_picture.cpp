#include "report/pour/pour_picture.h"

#include "report/draw/picture.h"
#include "report/draw/rasterise_wall.h"
#include "report/maps/heat_map_layout.h"
#include "report/words/amount_text.h"
#include "report/words/length_text.h"
#include "report/words/pour_words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <tuple>
#include <utility>

namespace leastwall {
namespace {

constexpr int kWidth = 2000, kMargin = 50, kTop = 130;
constexpr int kSection = 930, kLabels = 620, kPlan = 350;
constexpr double kScales = 1.6; // the largest section over the smallest at most
constexpr int kMostHeight = 560, kLeastHeight = 230;
constexpr double kLine = 31; // from one line of text to the next
constexpr std::size_t kMostLabels = 16;
constexpr Rgb kWood{233, 219, 196}, kText{30, 30, 30}, kStays{228, 228, 228}, kThin{176, 32, 16};
constexpr Rgb kLiftOne{240, 173, 66}, kLiftTwo{250, 212, 138}, kLater{255, 255, 255},
    kCured{247, 240, 226};

Rgb lift_colour(std::size_t lift) {
  return lift % 2 == 0 ? kLiftOne : kLiftTwo;
}

/// Where the section lies on paper.
struct Frame {
  double left = 0, top = 0, width = 0, height = 0;
  double px_per_mm = 1, along_mm = 0, face_z_mm = 0; ///< `along_mm` at the left edge
  double x(double along) const { return left + (along - along_mm) * px_per_mm; }
  double y(double z) const { return top + (face_z_mm - z) * px_per_mm; }
};

Frame frame_of(const PourSection& section, double left, double top, double most_px_per_mm) {
  const SectionBox all = shown_box(section, 0.15);
  Frame out;
  out.left = left;
  out.top = top;
  out.face_z_mm = section.face_z_mm;
  const double wide = std::max(1e-6, all.high.along_mm - all.low.along_mm),
               deep = std::max(1e-6, section.face_z_mm - all.low.z_mm);
  out.px_per_mm = std::min({kSection / wide, (kMostHeight - 10) / deep, most_px_per_mm});
  out.width = kSection;
  out.height = deep * out.px_per_mm + 6;
  out.along_mm = (all.low.along_mm + all.high.along_mm) / 2 - kSection / 2.0 / out.px_per_mm;
  return out;
}

/// Wood, lifts and what is cut out later, a column of pixels at a time.
PixelImage filled(const PourSection& section, const std::vector<PourLift>& lifts,
                  const Frame& frame) {
  PixelImage out{static_cast<int>(frame.width), static_cast<int>(frame.height), {}};
  out.pixels.assign(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height),
                    kWhite);
  const auto paint = [&](int column, double from_z, double to_z, const auto& colour) {
    const int first = std::max(0, static_cast<int>(std::lround(frame.y(to_z) - frame.top))),
              last =
                  std::min(out.height, static_cast<int>(std::lround(frame.y(from_z) - frame.top)));
    for (int row = first; row < last; ++row)
      out.pixels[static_cast<std::size_t>(row) * static_cast<std::size_t>(out.width) +
                 static_cast<std::size_t>(column)] = colour(row);
  };
  for (int column = 0; column < out.width; ++column) {
    const double along = frame.along_mm + (column + 0.5) / frame.px_per_mm;
    const auto skin = air_over(section.skin, along, section.face_z_mm);
    if (!skin.empty())
      paint(column, skin.front()[0], section.face_z_mm, [](int) { return kWood; });
    for (const auto& [low, high] : air_over(section.around, along, section.face_z_mm))
      paint(column, low, high, [](int) { return kCured; });
    for (const auto& [low, high] : air_over(section.pocket, along, section.face_z_mm))
      paint(column, low, high, [&](int row) {
        const double under = (row + 0.5) / frame.px_per_mm;
        std::size_t lift = 0;
        while (lift + 1 < lifts.size() && lifts[lift].under_face_mm >= under)
          ++lift;
        return lift_colour(lift);
      });
    for (const auto& [low, high] : air_over(section.later, along, section.face_z_mm))
      paint(column, low, high, [&](int row) {
        const std::size_t at = static_cast<std::size_t>(row) * static_cast<std::size_t>(out.width) +
                               static_cast<std::size_t>(column);
        return (row + column) % 14 < 4 ? kLater : out.pixels[at];
      });
  }
  return out;
}

void outline(Picture& picture, const SectionPieces& pieces, const Frame& frame,
             const LineStyle& style) {
  for (const auto& [a, b] : pieces)
    picture.line({{frame.x(a.along_mm), frame.y(a.z_mm)}, {frame.x(b.along_mm), frame.y(b.z_mm)}},
                 style);
}

struct Label {
  std::string text;
  double level = 0; ///< y of what it names
  bool bold = false;
};

/// Below one another, each as near its level as the others let it.
std::vector<double> places(const std::vector<Label>& labels, double top, double bottom) {
  std::vector<double> y;
  for (const Label& label : labels)
    y.push_back(std::max(label.level + 10, y.empty() ? top + 22 : y.back() + kLine));
  double most = bottom;
  for (std::size_t i = y.size(); i-- > 0;) {
    y[i] = std::min(y[i], most);
    most = y[i] - kLine;
  }
  return y;
}

std::vector<Label> labels_of(const PourReport& report, const PourRow& row, const Frame& frame,
                             bool inch) {
  std::vector<Label> out;
  const double middle = frame.top + frame.height / 2;
  if (!row.volume)
    return {{"volume not told: see the warnings", middle, true}};
  if (row.lifts.empty())
    return {{fmt::format("{} to the face", volume_text(row.volume->mm3, inch)), middle, true},
            {"lifts: state deepest_lift", middle, false}};
  const std::size_t step = (row.lifts.size() + kMostLabels - 1) / kMostLabels;
  for (std::size_t i = row.lifts.size(); i-- > 0;) {
    if ((row.lifts.size() - 1 - i) % step != 0 && i > 0)
      continue;
    const PourLift& lift = row.lifts[i];
    const std::string when = pour_when(report, lift.after_h);
    const std::string to =
        lift.under_face_mm > 0
            ? fmt::format("to {}", LengthText{false}.length(lift.under_face_mm, 1))
            : "to the face";
    out.push_back(
        {fmt::format("{}.  {} ml  {}{}{}", i + 1, ml_number(lift.volume_mm3),
                     inch && lift.under_face_mm > 0
                         ? fmt::format("to {} in", LengthText{true}.number(lift.under_face_mm, 1))
                         : to,
                     when.empty() ? "" : "  ", when),
         frame.y(frame.face_z_mm - lift.under_face_mm), false});
  }
  return out;
}

/// Seen from above: the pocket in grey, its thin places, and where the section runs.
void plan(Picture& picture, const PourDrawing& drawing, double left, double top, double height) {
  const Box box = drawing.wet.box();
  WallGrid frame;
  frame.width = kPlan;
  frame.height = static_cast<int>(height);
  frame.mm_per_px = std::max({box.size().x / (kPlan - 16), box.size().y / (height - 16), 1e-6});
  frame.left_mm = box.middle().x - frame.width / 2.0 * frame.mm_per_px;
  frame.top_mm = box.middle().y + frame.height / 2.0 * frame.mm_per_px;
  const auto cells_of = [&](const auto& triangles, const auto& corner) {
    WallMap map;
    for (const auto& t : triangles) {
      const auto first = static_cast<std::uint32_t>(map.samples.size());
      for (std::size_t i = 0; i < 3; ++i)
        map.samples.push_back({corner(t, i), {}, 0});
      map.cells.push_back({first, first + 1, first + 2});
    }
    WallGrid grid = frame;
    const std::vector<double> there(map.samples.size(), 1);
    rasterise_wall(map, there, grid);
    return grid;
  };
  const WallGrid wet = cells_of(drawing.wet.triangles, [&](const Tri& t, std::size_t i) {
    return drawing.wet.vertices[t[i]];
  });
  const WallGrid thin = drawing.thin.empty()
                            ? WallGrid()
                            : cells_of(drawing.thin, [](const std::array<Vec3, 3>& t,
                                                        std::size_t i) { return t[i]; });
  PixelImage image{frame.width, frame.height, {}};
  for (std::size_t i = 0; i < wet.value.size(); ++i)
    image.pixels.push_back(!thin.value.empty() && !std::isnan(thin.value[i]) ? kThin
                           : std::isnan(wet.value[i])                        ? kWhite
                                                                             : kStays);
  picture.image(image, static_cast<int>(left), static_cast<int>(top));
  const auto px = [&](double x) { return left + (x - frame.left_mm) / frame.mm_per_px; };
  const auto py = [&](double y) { return top + (frame.top_mm - y) / frame.mm_per_px; };
  const PourSection& section = drawing.section;
  const LineStyle line{3, kBlack, 2, kWhite};
  if (section.along_x)
    picture.line({{left, py(section.at_mm)}, {left + kPlan, py(section.at_mm)}}, line);
  else
    picture.line({{px(section.at_mm), top}, {px(section.at_mm), top + height}}, line);
}

/// What stands under a row, shrunk to the width where it must be.
std::vector<std::string> lines_of(const PourReport& report, const PourRow& row, bool inch) {
  std::vector<std::string> out;
  for (const std::string& words :
       {one_paragraph(volume_sentences(row, inch)), one_paragraph(mix_sentences(row, inch)),
        cut_sentence(report, row), asked_sentence(row)})
    if (!words.empty())
      out.push_back(words);
  return out;
}

class Sheet {
 public:
  Sheet(const Pour& pour, bool inch) : pour_(pour), inch_(inch) {}

  /// Draws where there is a picture, and returns the height that it takes.
  double draw(Picture* picture) const {
    double y = kTop;
    for (std::size_t i = 0; i < pour_.report.rows.size(); ++i)
      y = row(picture, i, y);
    return y;
  }

  /// Shrunk to the room it has.
  void text(Picture* picture, const std::string& words, double x, double y, double size, bool bold,
            double room) const {
    if (picture == nullptr)
      return;
    TextStyle style{size, kText, Align::left, bold, {}};
    style.size *= std::min(1.0, room / std::max(1.0, picture->text_width(words, style)));
    picture->text(words, x, y, style);
  }

 private:
  /// So that no pocket is drawn far larger than the others.
  double most_px_per_mm() const {
    double least = 1e9;
    for (const PourDrawing& drawing : pour_.drawings)
      if (!drawing.section.pocket.empty())
        least = std::min(least, frame_of(drawing.section, 0, 0, 1e9).px_per_mm);
    return kScales * least;
  }

  double row(Picture* picture, std::size_t i, double top) const {
    const PourReport& report = pour_.report;
    const PourRow& row = report.rows[i];
    const PourDrawing& drawing = pour_.drawings[i];
    const double room = kWidth - 2 * kMargin;
    text(picture, fmt::format("{}. {}", i + 1, pour_title(row)), kMargin, top + 34, 36, true, room);
    top += 58;
    if (!drawing.section.pocket.empty()) {
      if (!row.lifts.empty())
        text(picture,
             std::string("lift, holds, filled to so far under the face") +
                 (pour_when(report, row.lifts.front().after_h).empty() ? "" : ", when"),
             kMargin + kSection + 80, top + 16, 24, false, kLabels - 90);
      top += 30;
      const Frame frame = frame_of(drawing.section, kMargin, top, most_px_per_mm());
      const std::vector<Label> labels = labels_of(report, row, frame, inch_);
      const double height = std::max({frame.height, static_cast<double>(kLeastHeight),
                                      kLine * static_cast<double>(labels.size()) + 14});
      if (picture != nullptr)
        picture_of(*picture, drawing, row, frame, labels, top, height);
      top += height + 14;
      if (picture != nullptr)
        text(picture,
             fmt::format("Section along model {} at {} {}", drawing.section.along_x ? "x" : "y",
                         drawing.section.along_x ? "y" : "x",
                         LengthText{inch_}.length(drawing.section.at_mm, 1)),
             kMargin, top + 20, 24, false, kSection);
      if (picture != nullptr && row.thin)
        text(picture,
             fmt::format("dark: wall drawn under {}",
                         LengthText{inch_}.length(row.thin->limit_mm, 2)),
             kWidth - kMargin - kPlan, top + 20, 24, false, kPlan);
      top += 30;
    }
    for (const std::string& words : lines_of(report, row, inch_)) {
      text(picture, words, kMargin, top + 28, 28, false, room);
      top += 36;
    }
    return top + 26;
  }

  void picture_of(Picture& picture, const PourDrawing& drawing, const PourRow& row,
                  const Frame& frame, const std::vector<Label>& labels, double top,
                  double height) const {
    const PourSection& section = drawing.section;
    picture.image(filled(section, row.lifts, frame), static_cast<int>(frame.left),
                  static_cast<int>(frame.top));
    picture.clip(frame.left, frame.top - 4, frame.width, frame.height + 4);
    outline(picture, section.skin, frame, {4, kBlack, 0, kWhite});
    outline(picture, section.around, frame, {2, kText, 0, kWhite});
    outline(picture, section.later, frame, {3, kText, 0, kWhite});
    outline(picture, section.pocket, frame, {4, kBlack, 0, kWhite});
    picture.unclip();
    picture.line({{frame.left, frame.top}, {frame.left + frame.width, frame.top}},
                 {5, kBlack, 0, kWhite});
    const std::vector<double> y = places(labels, top, top + height);
    const double x = frame.left + kSection + 80;
    for (std::size_t i = 0; i < labels.size(); ++i) {
      double from = frame.left + frame.width;
      if (const auto air =
              air_at(section.pocket,
                     frame.face_z_mm - (labels[i].level - frame.top) / frame.px_per_mm - 1e-6);
          !air.empty())
        from = frame.x(air.back()[1]);
      if (row.volume && !row.lifts.empty())
        picture.line({{from, labels[i].level}, {x - 40, labels[i].level}, {x - 8, y[i] - 9}},
                     {2, kText, 0, kWhite});
      text(&picture, labels[i].text, x, y[i], 28, labels[i].bold, kLabels - 100);
    }
    plan(picture, drawing, kWidth - kMargin - kPlan, top, height);
  }

  const Pour& pour_;
  bool inch_;
};

} // namespace

std::string draw_pour_picture(const Pour& pour, bool inch) {
  const Sheet sheet(pour, inch);
  const double below = sheet.draw(nullptr);
  Picture picture(kWidth, static_cast<int>(below) + 90);
  sheet.text(&picture, "POUR: " + pour.report.title, kMargin, 66, 46, true, kWidth - 2 * kMargin);
  sheet.text(&picture,
             "Lifts of equal depth, from the deepest point up; levels count down from the pocket "
             "face. On the right each pocket from above, its section marked.",
             kMargin, 108, 27, false, kWidth - 2 * kMargin);
  sheet.draw(&picture);
  double x = kMargin;
  const std::tuple<Rgb, std::string> keys[] = {{kWood, "wood"},
                                               {kLiftOne, "lifts 1, 3, 5 ..."},
                                               {kLiftTwo, "lifts 2, 4, 6 ..."},
                                               {kCured, "cured before"},
                                               {kThin, "thin wall"}};
  const TextStyle style{26, kText, Align::left, false, {}};
  for (const auto& [colour, words] : keys) {
    picture.rectangle(x, below + 4, 44, 26, colour, 2, kBlack);
    picture.text(words, x + 56, below + 27, style);
    x += 56 + picture.text_width(words, style) + 34;
  }
  sheet.text(&picture, "hatched: cut out again later. Advice, never a guarantee: data sheet first.",
             x, below + 27, 26, false, kWidth - kMargin - x);
  return picture.file();
}

} // namespace leastwall
