// Where the datum of a side can really be touched, and where it is best touched.
#pragma once

#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace leastwall {

/// Looks for touch points that a carver can reach with the bit. All places are of the part, model
/// x, y, mm; those that the job does not state are whole tenths of a millimetre.
class TouchSearch {
 public:
  /// `setup.board.footprint` must be set; `board_stated`: the job states it, so that beside it is
  /// bare bed. Keeps a reference to `samples`.
  TouchSearch(const Setup& setup, std::span<const WallSample> samples, Point2 thinnest,
              bool board_stated);

  /// Whether `side` of `setup` can be touched at `at`:
  /// * zero on top: on the board, `kFromEdge` from its edge, on a face that is still there when the
  ///   last bit touches (cut_there), not over a dowel;
  /// * zero on the bed: beside the board by kFromEdge at least, and the board's size is stated;
  /// * where the bed was read, inside the readings as this side lies on them.
  bool can_touch(const Setup& setup, Side side, Point2 at) const;

  /// The place among a bounded, fixed set where the walls come out thickest: the other side's touch
  /// point and the own one, then rings along the board's edge, inside for a zero on top, outside
  /// for one on the bed. First by the height of what is touched, the best few of those by the worst
  /// case of the thinnest places. Of equals the first. Absent: no place that is known.
  std::optional<Point2> best(const Setup& setup, Side side) const;
  /// The same for one place that serves both sides; both zeros must be of the same kind.
  std::optional<Point2> best_for_both(const Setup& setup) const;

  /// Whether the walls depend on where `side` is touched.
  static bool matters(const Setup& setup, Side side);

  static constexpr double kFromEdge = 3;   ///< mm: half a usual bit, common practice
  static constexpr double kFromDowel = 10; ///< mm from the middle of a pin

 private:
  std::vector<Point2> candidates(const Setup& setup, std::span<const Side> sides) const;
  std::optional<Point2> best_of(const Setup& setup, std::span<const Side> sides) const;
  bool cut(Point2 at) const;
  double worst_wall(const Setup& setup) const;

  std::span<const WallSample> samples_;
  Point2 thinnest_;
  bool board_stated_;
  std::vector<WallSample> thin_; // the places that are thinnest at worst
  mutable std::map<std::pair<double, double>, bool> cut_;
};

/// To whole tenths of a millimetre.
Point2 in_tenths(Point2 p);

/// "x -70.0 y 12.5"; as many decimals as it takes to say the very place, three at most.
std::string point_text(Point2 p);

} // namespace leastwall
