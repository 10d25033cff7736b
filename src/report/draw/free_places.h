// Where labels go on a drawing of lines, so that they hide nothing.
#pragma once

#include "report/draw/label_places.h"

#include <optional>
#include <vector>

namespace leastwall {

class FreePlaces {
 public:
  /// Labels stay inside `frame`.
  explicit FreePlaces(const LabelBox& frame) : frame_(frame) {}

  /// A line that is drawn 2 `half` wide. `parts`: it parts what lies on either side of it.
  void keep_clear(PicturePoint a, PicturePoint b, double half, bool parts = false);
  void keep_clear(const LabelBox& box) { boxes_.push_back(box); }

  /// Whether a box lies in the frame and hides nothing.
  bool clear(const LabelBox& box) const;

  /// The clear box of this size whose middle is nearest to `wanted`; it counts as taken from now
  /// on. `beside`: no line that parts the drawing lies between this point and its middle. Absent
  /// where there is none.
  std::optional<LabelBox> place(PicturePoint wanted, double width, double height,
                                const std::optional<PicturePoint>& beside = {});

 private:
  struct Line {
    PicturePoint a, b;
    double half = 0;
    bool parts = false;
  };

  LabelBox frame_;
  std::vector<Line> lines_;
  std::vector<LabelBox> boxes_;
};

} // namespace leastwall
