#include "report/draw/free_places.h"

#include <algorithm>
#include <array>
#include <utility>

namespace leastwall {
namespace {

/// Twice the area of a, b, c; its sign tells on which side of a to b the point c lies.
double turn(PicturePoint a, PicturePoint b, PicturePoint c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

bool cross(PicturePoint a, PicturePoint b, PicturePoint c, PicturePoint d) {
  return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

/// Whether any of a to b lies in the box (Liang and Barsky: what is left of the line after each of
/// the four sides has cut it).
bool meets(const LabelBox& box, PicturePoint a, PicturePoint b) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  double from = 0, to = 1;
  for (const auto& [step, room] :
       {std::pair{-dx, a.x - box.left}, std::pair{dx, box.right - a.x},
        std::pair{-dy, a.y - box.top}, std::pair{dy, box.bottom - a.y}}) {
    if (step == 0) {
      if (room < 0)
        return false;
    } else if (step < 0) {
      from = std::max(from, room / step);
    } else {
      to = std::min(to, room / step);
    }
  }
  return from <= to;
}

LabelBox grown(const LabelBox& box, double by) {
  return {box.left - by, box.top - by, box.right + by, box.bottom + by};
}

} // namespace

void FreePlaces::keep_clear(PicturePoint a, PicturePoint b, double half, bool parts) {
  lines_.push_back({a, b, half, parts});
}

bool FreePlaces::clear(const LabelBox& box) const {
  return box.left >= frame_.left && box.right <= frame_.right && box.top >= frame_.top &&
         box.bottom <= frame_.bottom &&
         std::ranges::none_of(boxes_, [&](const LabelBox& taken) { return taken.overlaps(box); }) &&
         std::ranges::none_of(lines_, [&](const Line& line) {
           return meets(grown(box, line.half), line.a, line.b);
         });
}

std::optional<LabelBox> FreePlaces::place(PicturePoint wanted, double width, double height,
                                          const std::optional<PicturePoint>& beside) {
  constexpr int kAcross = 80, kDown = 60;
  const double room_x = frame_.right - frame_.left - width,
               room_y = frame_.bottom - frame_.top - height;
  const auto distance = [&](PicturePoint p) {
    return (p.x - wanted.x) * (p.x - wanted.x) + (p.y - wanted.y) * (p.y - wanted.y);
  };
  const auto reached = [&](PicturePoint p) {
    return !beside || std::ranges::none_of(lines_, [&](const Line& line) {
      return line.parts && cross(*beside, p, line.a, line.b);
    });
  };
  std::optional<LabelBox> best;
  double nearest = 0;
  const auto look = [&](PicturePoint p) {
    const LabelBox box{p.x - width / 2, p.y - height / 2, p.x + width / 2, p.y + height / 2};
    if ((best && distance(p) >= nearest) || !clear(box) || !reached(p))
      return;
    best = box;
    nearest = distance(p);
  };
  look(wanted);
  if (!best)
    for (int row = 0; row <= kDown; ++row)
      for (int column = 0; column <= kAcross; ++column)
        look({frame_.left + width / 2 + room_x * column / kAcross,
              frame_.top + height / 2 + room_y * row / kDown});
  if (best)
    boxes_.push_back(*best);
  return best;
}

} // namespace leastwall
