// A section on a picture: a window of an upright plane, lines, the wall across it, a scale bar.
#pragma once

#include "report/draw/free_places.h"
#include "report/draw/picture.h"
#include "report/words/length_text.h"
#include "spatial/mesh_section.h"

namespace leastwall {

class SectionView {
 public:
  struct Frame {
    double left = 0, top = 0, width = 0, height = 0; ///< px
    SectionPoint middle;                             ///< of the plane, in the frame's middle
    double px_per_mm = 1;
  };
  SectionView(Picture& picture, const Frame& frame) : picture_(picture), frame_(frame) {}

  /// A white ground with a border; what is drawn until end() is cut off there.
  void begin();
  void end();
  /// Round joints; pieces outside the frame are left out.
  void lines(const SectionPieces& pieces, const LineStyle& style);
  /// The wall from end to end, with a dot at each.
  void wall(const SectionPoint& from, const SectionPoint& to, Rgb colour);
  /// After end(): a bar of a round length, with its length; at the lower left, or where `free` has
  /// room for it near there.
  void scale_bar(const LengthText& words, FreePlaces* free = nullptr);
  /// What labels must not hide: lines drawn so wide. `parts`: they part the drawing.
  void keep_clear(FreePlaces& free, const SectionPieces& pieces, double width, bool parts) const;
  LabelBox inside() const;
  PicturePoint point(const SectionPoint& p) const;

 private:
  Picture& picture_;
  Frame frame_;
};

} // namespace leastwall
