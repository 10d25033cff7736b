// What the shop sees of a side: where board, flip line, dowels and touch point lie for somebody who
// stands at the machine. Program coordinates of that side, mm: x to the right, y away from the
// operator, side B is mirrored about the flip line.
// Side A's zero is the model's x 0, y 0, and the machine keeps it for side B.
#pragma once

#include "budget/advice/touch_place.h"
#include "report/check_report.h"
#include "setup/place.h"
#include "space/box.h"
#include "wall/sampling/wall_map.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace leastwall {

/// How a map of that side is seen, a sentence.
std::string machine_view(Side side);

/// Where the wall is least, as that side sees it: of side B with the model's place behind it.
/// Empty for side A, which sees the model's place.
std::string thinnest_on(Side side, const Flip& flip, const CheckReport& report, bool inch);

/// A rectangle of model x, y as that side sees it.
Footprint side_place(const Flip& flip, Side side, const Footprint& model);

/// The map as that side sees it: samples mirrored for side B, the heights left as they are.
WallMap seen_from(const WallMap& map, const Flip& flip, Side side);

struct SideMarks {
  Footprint board;           ///< the part's own rectangle when no board was stated
  bool board_stated = false; ///< the job states its footprint
  Footprint part;            ///< rectangle around both meshes
  Point2 flip_from, flip_to; ///< ends of the flip line, just beyond board and dowels
  std::vector<Point2> dowels;
  Point2 touch; ///< the middle of the board when no point was stated
  bool touch_stated = false;
  TouchPlace touch_place = TouchPlace::good; ///< any other: no one can touch there, do not draw it
  std::optional<Footprint> pad;              ///< the witness pad, where one is to be cut

  /// Rectangle around board, part and dowels.
  Footprint solid() const;
  /// Rectangle around all of it.
  Footprint all() const;
};

/// `part`: box of both meshes, model space. `samples`: of the wall, to tell where a touch point
/// cannot serve; without them a cut place is not seen. `of_parts`: as touch_place() takes it.
SideMarks side_marks(const Setup& setup, const Box& part, Side side,
                     std::span<const WallSample> samples = {},
                     std::span<const std::size_t> of_parts = {});

} // namespace leastwall
