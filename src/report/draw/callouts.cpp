#include "report/draw/callouts.h"

#include <algorithm>
#include <numeric>

namespace leastwall {
namespace {

double turn(PicturePoint a, PicturePoint b, PicturePoint c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

bool cross_each_other(PicturePoint a, PicturePoint b, PicturePoint c, PicturePoint d) {
  return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

/// Heights near the wanted ones (ascending), at least `pitch` apart, inside the frame.
void spread(std::vector<double>& y, const CalloutFrame& frame) {
  const double low = frame.top + frame.pitch / 2, high = frame.bottom - frame.pitch / 2;
  for (std::size_t i = 0; i < y.size(); ++i)
    y[i] = std::max({y[i], low, i > 0 ? y[i - 1] + frame.pitch : low});
  for (std::size_t i = y.size(); i-- > 0;)
    y[i] = std::min(y[i], i + 1 < y.size() ? y[i + 1] - frame.pitch : high);
}

/// Swaps the heights of two labels while their leaders cross. Each swap shortens the sum of the
/// leader lengths, so it ends.
void uncross(const std::vector<std::size_t>& column, const std::vector<PicturePoint>& places,
             double label_x, std::vector<Callout>& out) {
  for (bool swapped = true; swapped;) {
    swapped = false;
    for (const std::size_t i : column)
      for (const std::size_t j : column)
        if (i < j &&
            cross_each_other({label_x, out[i].y}, places[i], {label_x, out[j].y}, places[j])) {
          std::swap(out[i].y, out[j].y);
          swapped = true;
        }
  }
}

} // namespace

std::vector<Callout> place_callouts(const std::vector<PicturePoint>& places,
                                    const CalloutFrame& frame) {
  const std::size_t room =
      static_cast<std::size_t>(std::max(0.0, (frame.bottom - frame.top) / frame.pitch + 1e-9));
  const std::size_t count = std::min(places.size(), 2 * room);
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return places[i].x; });
  const double middle = (frame.left_x + frame.right_x) / 2;
  std::size_t lefts = static_cast<std::size_t>(
      std::ranges::count_if(order, [&](std::size_t i) { return places[i].x < middle; }));
  lefts = std::clamp(lefts, count - std::min(count, room), std::min(count, room));

  std::vector<Callout> out(count);
  for (const bool left : {true, false}) {
    const auto split = order.begin() + static_cast<std::ptrdiff_t>(lefts);
    std::vector<std::size_t> column(left ? order.begin() : split, left ? split : order.end());
    std::ranges::stable_sort(column, {}, [&](std::size_t i) { return places[i].y; });
    std::vector<double> heights;
    for (const std::size_t i : column)
      heights.push_back(places[i].y);
    spread(heights, frame);
    for (std::size_t k = 0; k < column.size(); ++k)
      out[column[k]] = {left, heights[k]};
    uncross(column, places, left ? frame.left_x : frame.right_x, out);
  }
  return out;
}

} // namespace leastwall
