#include "causes/bit/ball_radius.h"

#include "causes/model/cause_terms.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

void add_ball_radius(const Setup& setup, Side side, std::vector<Cause>& causes) {
  const Uncertain& radius = side_of(setup, side).bit.radius;
  if (radius.size_mm == 0)
    return;
  Cause cause = vertical_cause({CauseKind::ball_radius, side}, radius,
                               side_key(setup, side, "bit.radius_error"));
  cause.most = side_of(setup, side).bit.ball_radius_mm; // less than nothing is no bit
  cause.sensitivity = [](const WallSample& p) { return -std::max(0.0, 1 - std::abs(p.n.z)); };
  causes.push_back(cause);
}

} // namespace leastwall
