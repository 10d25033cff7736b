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

void SectionView::scale_bar(const LengthText& words) {
  const double bar = round_length(frame_.width / 4 / frame_.px_per_mm, words.inch);
  const double x = frame_.left + 40, y = frame_.top + frame_.height - 40;
  picture_.line({{x, y}, {x + bar * frame_.px_per_mm, y}}, {8, kBlack, 3, kWhite});
  // As many decimals as a round length of the unit has.
  const int decimals = words.inch ? 2 : bar >= 1 ? 0 : bar >= 0.1 ? 1 : 2;
  picture_.text(words.length(bar, decimals), x, y - 20, {30, kBlack, Align::left, true, kWhite});
}

} // namespace leastwall
