#include "causes/bit/runout.h"

#include "causes/model/cause_terms.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

void add_runout(const CutView& cut, std::vector<Cause>& causes) {
  const double runout = cut.how.bit.runout_mm;
  if (runout == 0)
    return;
  Cause cause = vertical_cause(CauseKind::runout, cut, {runout, Knowledge::limits}, "bit.runout");
  cause.id.set_up = cut.id.bit;
  cause.distribution = Distribution::half_uniform;
  cause.sensitivity = [removal = cut.removal](const WallSample& p) {
    return removal * std::sqrt(std::max(0.0, 1 - p.n.z * p.n.z));
  };
  cause.bound = at_most(std::abs(cut.removal));
  causes.push_back(cause);
}

} // namespace leastwall
