#include "causes/bit/runout.h"

#include "causes/model/cause_terms.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

void add_runout(const Setup& setup, Side side, std::vector<Cause>& causes) {
  const double runout = side_of(setup, side).bit.runout_mm;
  if (runout == 0)
    return;
  Cause cause = vertical_cause({CauseKind::runout, side}, {runout, Knowledge::limits},
                               side_key(setup, side, "bit.runout"));
  cause.distribution = Distribution::half_uniform;
  cause.sensitivity = [](const WallSample& p) {
    return -std::sqrt(std::max(0.0, 1 - p.n.z * p.n.z));
  };
  causes.push_back(cause);
}

} // namespace leastwall
