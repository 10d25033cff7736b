// Which pairs of points tell something that known pairs do not.
#pragma once

#include "base/run_context.h"
#include "wall/sampling/wall_map.h"

#include <span>
#include <vector>

namespace leastwall {

/// How much thinner than the known pairs a pair may come out when it is dropped: `wall_mm` plus
/// `turned` of the way that the surfaces move against each other, up to `move_mm`.
struct PairSlack {
  double wall_mm = 0.0005;
  double turned = 0.01;
  double move_mm = 1;
};

/// Does a pair of wall w and direction n stand for another, q? When the skin moves by D its wall is
/// w + n.D, which is over q's by no more than (w - w_q) + |n - n_q| |D|; that is linear in |D|, so
/// no way and the longest way decide.
inline bool stands_for(double w, Vec3 n, const WallSample& q, const PairSlack& slack) {
  const double thicker = w - q.wall_mm - slack.wall_mm;
  return thicker <= 0 && thicker + (length(n - q.n) - slack.turned) * slack.move_mm <= 0;
}

/// Numbers of those `pairs`, ascending, that neither a sample of `known` nor a pair that is kept
/// stands for within the same cube of `cube_mm`. Causes change little over a cube: a bed that rises
/// 0.2 mm in 200 mm changes by 0.004 mm over 4 mm. Of very many samples in a cube some hundreds
/// are asked, the thinnest first. The same answer on any number of threads.
std::vector<std::uint32_t> new_pairs(std::span<const WallSample> known,
                                     std::span<const WallSample> pairs, double cube_mm,
                                     const PairSlack& slack, const RunContext& run);

} // namespace leastwall
