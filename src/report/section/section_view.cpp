#include "report/section/section_view.h"

#include "report/draw/round_length.h"

#include <algorithm>

namespace leastwall {

PicturePoint SectionView::point(const SectionPoint& p) const {
  return {frame_.left + frame_.width / 2 + (p.along_mm - frame_.middle.along_mm) * frame_.px_per_mm,
          frame_.top + frame_.height / 2 - (p.z_mm - frame_.middle.z_mm) * frame_.px_per_mm};
}

void SectionView::begin() {
  picture_.rectangle(frame_.left, frame_.top, frame_.width, frame_.height, kWhite, 3, kBlack);
  picture_.clip(frame_.left, frame_.top, frame_.width, frame_.height);
}

void SectionView::end() {
  picture_.unclip();
}

void SectionView::lines(const SectionPieces& pieces, const LineStyle& style) {
  const double reach = style.width;
  for (const auto& [a, b] : pieces) {
    const PicturePoint from = point(a), to = point(b);
    if (std::max(from.x, to.x) < frame_.left - reach ||
        std::min(from.x, to.x) > frame_.left + frame_.width + reach ||
        std::max(from.y, to.y) < frame_.top - reach ||
        std::min(from.y, to.y) > frame_.top + frame_.height + reach)
      continue;
    picture_.line({from, to}, style);
    for (const PicturePoint& end : {from, to}) // round joints
      picture_.disc(end.x, end.y, style.width / 2, style.colour);
  }
}

void SectionView::wall(const SectionPoint& from, const SectionPoint& to, Rgb colour) {
  picture_.line({point(from), point(to)}, {5, colour, 2, kWhite});
  for (const SectionPoint& end : {from, to})
    picture_.disc(point(end).x, point(end).y, 9, colour, 2, kWhite);
}

void SectionView::keep_clear(FreePlaces& free, const SectionPieces& pieces, double width,
                             bool parts) const {
  for (const auto& [a, b] : pieces)
    free.keep_clear(point(a), point(b), width / 2, parts);
}

LabelBox SectionView::inside() const {
  return {frame_.left + 6, frame_.top + 6, frame_.left + frame_.width - 6,
          frame_.top + frame_.height - 6};
}

void SectionView::scale_bar(const LengthText& words, FreePlaces* free) {
  constexpr double kHeight = 62; // of bar and length, px
  const double bar = round_length(frame_.width / 4 / frame_.px_per_mm, words.inch);
  // As many decimals as a round length of the unit has.
  const int decimals = words.inch ? 2 : bar >= 1 ? 0 : bar >= 0.1 ? 1 : 2;
  const TextStyle style{30, kBlack, Align::left, true, kWhite};
  const std::string length = words.length(bar, decimals);
  const double long_px = bar * frame_.px_per_mm;
  const double width = std::max(long_px, picture_.text_width(length, style)) + 12;
  double x = frame_.left + 40, y = frame_.top + frame_.height - 40;
  if (free != nullptr)
    if (const auto box = free->place({x - 6 + width / 2, y + 10 - kHeight / 2}, width, kHeight)) {
      x = box->left + 6;
      y = box->bottom - 10;
    }
  picture_.line({{x, y}, {x + long_px, y}}, {8, kBlack, 3, kWhite});
  picture_.text(length, x, y - 20, style);
}

} // namespace leastwall
