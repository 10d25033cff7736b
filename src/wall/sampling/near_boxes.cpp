#include "wall/sampling/near_boxes.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

constexpr double kMaxAlong = 256;       // boxes along one axis
constexpr std::size_t kMaxAsked = 4096; // boxes looked at for one answer
constexpr std::size_t kMaxMarks = 200'000'000;

} // namespace

NearBoxes::NearBoxes(const Box& space, double edge_mm) : low_(space.low) {
  const Vec3 size = space.size();
  edge_ = std::max({edge_mm, std::max({size.x, size.y, size.z}) / kMaxAlong, 1e-9});
  const double sizes[3] = {size.x, size.y, size.z};
  for (std::size_t k = 0; k < 3; ++k)
    count_[k] = static_cast<std::size_t>(std::clamp(sizes[k] / edge_, 0.0, kMaxAlong)) + 1;
  marked_.resize(count_[0] * count_[1] * count_[2]);
}

NearBoxes::Span NearBoxes::span_of(const Box& what, double within_mm) const {
  const double low[3] = {what.low.x - low_.x, what.low.y - low_.y, what.low.z - low_.z};
  const double high[3] = {what.high.x - low_.x, what.high.y - low_.y, what.high.z - low_.z};
  // A hair more than asked for, so that rounding never leaves a box out.
  const double more = within_mm + 1e-6 * edge_;
  Span span{};
  for (std::size_t k = 0; k < 3; ++k) {
    const auto most = static_cast<double>(count_[k] - 1);
    span.low[k] =
        static_cast<std::size_t>(std::clamp(std::floor((low[k] - more) / edge_), 0.0, most));
    span.high[k] =
        static_cast<std::size_t>(std::clamp(std::floor((high[k] + more) / edge_), 0.0, most));
  }
  return span;
}

std::size_t NearBoxes::boxes_of(const Span& s) {
  std::size_t boxes = 1;
  for (std::size_t k = 0; k < 3; ++k)
    boxes *= s.high[k] - s.low[k] + 1;
  return boxes;
}

void NearBoxes::mark(const Box& what, double within_mm) {
  if (marks_ > kMaxMarks)
    return; // all are marked
  const Span s = span_of(what, within_mm);
  marks_ += boxes_of(s);
  if (marks_ > kMaxMarks) {
    marked_.assign(marked_.size(), true);
    return;
  }
  for (std::size_t z = s.low[2]; z <= s.high[2]; ++z)
    for (std::size_t y = s.low[1]; y <= s.high[1]; ++y) {
      const std::size_t row = (z * count_[1] + y) * count_[0];
      for (std::size_t x = s.low[0]; x <= s.high[0]; ++x)
        marked_[row + x] = true;
    }
}

bool NearBoxes::touches(const Box& what) const {
  const Span s = span_of(what, 0);
  if (boxes_of(s) > kMaxAsked)
    return true;
  for (std::size_t z = s.low[2]; z <= s.high[2]; ++z)
    for (std::size_t y = s.low[1]; y <= s.high[1]; ++y) {
      const std::size_t row = (z * count_[1] + y) * count_[0];
      for (std::size_t x = s.low[0]; x <= s.high[0]; ++x)
        if (marked_[row + x])
          return true;
    }
  return false;
}

} // namespace leastwall
