// The further maps of a piece: the wall as designed, expected and at worst, which cause thins it
// most, and each side as the shop sees it at the machine. One fixed colour scale in all.
#pragma once

#include "budget/budget.h"
#include "report/check_report.h"
#include "report/maps/heat_map_layout.h"
#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <optional>
#include <string>

namespace leastwall {

enum class ShopMapKind {
  design,   ///< the meshes as drawn
  expected, ///< with what is known
  worst,    ///< every stated error at its limit
  causes    ///< which cause thins the wall most
};

struct ShopMapInput {
  const WallMap& skin;
  const Budget& budget; ///< per sample of `skin`
  const CheckReport& report;
  const Setup& setup;
  bool flip_stated = true;
};

struct ShopMapOptions {
  ShopMapKind kind = ShopMapKind::expected;
  /// A side as seen at the machine: side B mirrored about the flip line, with board, flip line,
  /// dowels, touch point and numbered thin places. Absent: the piece alone from the pocket side.
  std::optional<Side> machine;
  int width_px = 1600; ///< 400..8000
  bool inch = false;
  std::size_t numbered = 12; ///< so many thin places get a number, the others a dot
};

/// The PNG's bytes; the same input gives the same bytes. Thin places are numbered as in the report.
/// Throws RunError when nothing was measured or the counts do not match, InputError for a width out
/// of range.
std::string draw_shop_map(const ShopMapInput& input, const ShopMapOptions& options);

/// The layout that `draw_shop_map` uses for the same input.
HeatMapLayout shop_map_layout_of(const ShopMapInput& input, const ShopMapOptions& options);

} // namespace leastwall
