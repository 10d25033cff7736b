#include "setup/bits.h"

#include "setup/cause_terms.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

void add_tip_height(const Setup& setup, Side side, std::vector<Cause>& causes) {
  const Uncertain& tip = side_of(setup, side).bit.tip_height;
  if (tip.size_mm != 0)
    causes.push_back(
        vertical_cause("tip-height", "tip height of bit, " + side_words(side), side, tip));
}

void add_ball_radius(const Setup& setup, Side side, std::vector<Cause>& causes) {
  const Uncertain& radius = side_of(setup, side).bit.radius;
  if (radius.size_mm == 0)
    return;
  Cause cause =
      vertical_cause("ball-radius", "ball radius of bit, " + side_words(side), side, radius);
  cause.sensitivity = [](const CausePoint& p) { return -std::max(0.0, 1 - std::abs(p.n.z)); };
  causes.push_back(cause);
}

void add_runout(const Setup& setup, Side side, std::vector<Cause>& causes) {
  const double runout = side_of(setup, side).bit.runout_mm;
  if (runout == 0)
    return;
  Cause cause = vertical_cause("runout", "sideways overcut of bit, " + side_words(side), side,
                               {runout, Knowledge::limits});
  cause.distribution = Distribution::one_sided;
  cause.sensitivity = [](const CausePoint& p) {
    return -std::sqrt(std::max(0.0, 1 - p.n.z * p.n.z));
  };
  causes.push_back(cause);
}

} // namespace leastwall
