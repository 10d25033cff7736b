#include "causes/bit/ball_radius.h"

#include "causes/model/cause_terms.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

void add_ball_radius(const CutView& cut, std::vector<Cause>& causes) {
  const Uncertain& radius = cut.how.bit.radius;
  if (radius.size_mm == 0)
    return;
  Cause cause = vertical_cause(CauseKind::ball_radius, cut, radius, "bit.radius_error");
  cause.id.set_up = cut.id.bit;
  cause.most = cut.how.bit.ball_radius_mm; // less than nothing is no bit
  cause.sensitivity = [removal = cut.removal](const WallSample& p) {
    return removal * std::max(0.0, 1 - std::abs(p.n.z));
  };
  cause.bound = at_most(std::abs(cut.removal));
  causes.push_back(cause);
}

} // namespace leastwall
