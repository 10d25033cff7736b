#include "causes/model/error_tiles.h"

#include "base/assumption.h"
#include "causes/model/cause_terms.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <memory>
#include <utility>

namespace leastwall {
namespace {

class Tiles : public ErrorField {
 public:
  Tiles(const Footprint& board, double length_mm, Sensitivity c)
      : low_(board.low), length_mm_(length_mm), columns_(cells(board.high.x - board.low.x)),
        rows_(cells(board.high.y - board.low.y)), c_(std::move(c)) {}

  std::uint32_t count() const override { return columns_ * rows_; }
  void shares(const WallSample& p, std::vector<ErrorShare>& out) const override {
    const std::uint32_t i = cell(p.at.x - low_.x, columns_), j = cell(p.at.y - low_.y, rows_);
    if (const double c = c_(p); c != 0)
      out.push_back({j * columns_ + i, c});
  }

 private:
  std::uint32_t cells(double size_mm) const {
    return static_cast<std::uint32_t>(std::max(1.0, std::ceil(size_mm / length_mm_ - 1e-9)));
  }
  /// A place beside the board shares the error at its edge.
  std::uint32_t cell(double from_edge_mm, std::uint32_t cells) const {
    return static_cast<std::uint32_t>(
        std::clamp(std::floor(from_edge_mm / length_mm_), 0.0, static_cast<double>(cells - 1)));
  }

  Point2 low_;
  double length_mm_;
  std::uint32_t columns_, rows_;
  Sensitivity c_;
};

} // namespace

void vary_over_board(const Setup& setup, std::optional<double> length_mm, const char* what,
                     Cause& cause, std::vector<Assumption>& assumptions) {
  const Footprint board = setup.board.footprint.value_or(Footprint{{-500, -500}, {500, 500}});
  const double width = board.high.x - board.low.x, depth = board.high.y - board.low.y;
  const double stated = length_mm.value_or(kVariesOver_mm);
  double length = stated;
  while ((std::ceil(width / length) + 1) * (std::ceil(depth / length) + 1) > kMaxTiles)
    length *= 1.05;
  if (!length_mm)
    note(assumptions,
         fmt::format("{} differs from place to place: places {:.0f} mm apart are taken "
                     "as independent",
                     what, length));
  else if (length != stated)
    note(assumptions, fmt::format("{} differs from place to place: {:.1f} mm are too short for so "
                                  "large a board, places {:.1f} mm apart are taken as independent",
                                  what, stated, length));
  set_field(cause, std::make_shared<const Tiles>(board, length, cause.sensitivity));
}

} // namespace leastwall
