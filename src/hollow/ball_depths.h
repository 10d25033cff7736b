// How deep a ball bit may go at every place of the pocket face, so that it leaves a wall.
//
// The bit stands upright: a ball of radius R with a shaft as wide above it. Its middle may be at c
// when every point of the segment from c straight up to the pocket face is at least R + w away from
// the skin, w being the wall that is asked for at the skin's nearest point. Then all that the bit
// takes away is at least w away. What it can take away is the union of these bits over all places:
// no feature is narrower than the bit and nothing is undercut as seen from the pocket face.
#pragma once

#include "base/run_context.h"
#include "space/box.h"
#include "spatial/closest_surface.h"
#include "spatial/vertical_ray_grid.h"

#include <cstddef>
#include <functional>
#include <limits>
#include <vector>

namespace leastwall {

/// Square lattice in model x, y.
struct Lattice {
  double left_mm = 0, near_mm = 0; ///< x and y of node (0, 0)
  double step_mm = 1;
  std::size_t nx = 0, ny = 0; ///< nodes

  double x(std::size_t i) const { return left_mm + step_mm * static_cast<double>(i); }
  double y(std::size_t j) const { return near_mm + step_mm * static_cast<double>(j); }
  std::size_t node(std::size_t i, std::size_t j) const { return j * nx + i; }
};

/// Nodes over `skin` seen from above and a bit's radius round it.
Lattice lattice_round(const Box& skin, double ball_radius_mm, double step_mm);

inline constexpr double kNoDepth = std::numeric_limits<double>::infinity();

struct BallDepths {
  Lattice at;
  /// By node: model z of the lowest middle of the ball; kNoDepth where the bit cannot go at all.
  std::vector<double> middle_z_mm;
  /// The last place of the bit on the way to the next node in x, and in y, where it can go at one
  /// of the two only.
  struct Last {
    double on_way_mm = 0; ///< from the node
    double middle_z_mm = kNoDepth;
  };
  std::vector<Last> last_x, last_y; ///< by node

  /// Places between a node and the next ones, where the depth changes fast from one to the other.
  struct Between {
    double dx_mm = 0, dy_mm = 0; ///< from the node
    double middle_z_mm = 0;
  };
  std::vector<Between> between;
  std::vector<std::size_t> first_between; ///< by node, one more at the end; empty: there are none

  /// Every place of a node: itself and those behind it. `use(dx, dy, middle)`.
  template <class Use> void each_place(std::size_t node, const Use& use) const {
    for (std::size_t b = first_between.empty() ? 0 : first_between[node];
         !first_between.empty() && b < first_between[node + 1]; ++b)
      use(between[b].dx_mm, between[b].dy_mm, between[b].middle_z_mm);
    if (middle_z_mm[node] < kNoDepth)
      use(0.0, 0.0, middle_z_mm[node]);
    if (last_x[node].middle_z_mm < kNoDepth)
      use(last_x[node].on_way_mm, 0.0, last_x[node].middle_z_mm);
    if (last_y[node].middle_z_mm < kNoDepth)
      use(0.0, last_y[node].on_way_mm, last_y[node].middle_z_mm);
  }
};

struct BallDepthsInput {
  const ClosestSurface& skin;     ///< without what lies on the pocket face
  const VerticalRayGrid& columns; ///< of the same mesh
  double face_z_mm = 0;
  double ball_radius_mm = 1;    ///< > 0
  double deepest_mm = kNoDepth; ///< of the floor under the pocket face
  /// Wall to leave, mm, at a place of the skin; n: unit, from the pocket towards it.
  std::function<double(Vec3 at, Vec3 n)> wall_mm = {};
  double most_wall_mm = 0; ///< never more than this
  /// Where the ball's middle does not come so far under the face, the bit does not go: the mouth of
  /// the pocket then stands upright. Below 0: so far above the face.
  double upright_mm = 0;
  /// What was found on the same lattice when no less wall was asked for: begins there.
  const BallDepths* from = nullptr;
  /// Two more of the same kind: the ball stays inside this surface, too. Both or none.
  const ClosestSurface* within = nullptr;
  const VerticalRayGrid* within_columns = nullptr;
  /// The ball's middle may stay so far above the face, where only its cap goes in, if what lies
  /// below it is no deeper than the ball's radius: caps are for shallow reliefs, not for corners of
  /// a deep pocket, whose sides stand upright at the face.
  double above_mm = 0;
  /// Also at places between nodes, so that no two places beside one another differ by more than a
  /// step in depth: steep sides are then followed as closely as flat floors.
  bool with_between = false;
  /// Nodes that are looked at; unset: all. At others the bit does not go.
  std::function<bool(std::size_t node)> wanted = {};
};

/// At every node inside the skin's outline the ball is let down from `above_mm` over the face onto
/// the facets (ball_drop.h), each of which asks for the wall of its middle, and moved up or down
/// from there until the wall of the nearest point is met within `kWalk_mm`. Where that does not
/// soon end, it walks down from the top, each step as long as nothing can be nearer (the distance
/// to a surface changes by no more than the way), but no shorter than 0.04 mm: no more than 5,000
/// steps a node. `wall_mm` should change slowly over the skin. The same on any number of threads.
/// Throws Cancelled.
BallDepths ball_depths(const BallDepthsInput& input, const Lattice& at, const RunContext& run);

inline constexpr double kWalk_mm = 0.002;

} // namespace leastwall
