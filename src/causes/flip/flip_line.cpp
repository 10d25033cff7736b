#include "causes/flip/flip_line.h"

#include "base/assumption.h"
#include "causes/flip/flip_terms.h"
#include "causes/model/cause_terms.h"

namespace leastwall {

void add_flip_line(const Setup& setup, std::vector<Cause>& causes,
                   std::vector<Assumption>& assumptions) {
  const Flip flip = setup.flip;
  if (flip.line_error.size_mm == 0) {
    if (flip.located_by == LocatedBy::edges)
      note(assumptions, "the flip line found from the edges is exact: state its error");
    return;
  }
  Cause cause = flip_cause({CauseKind::flip_line}, distribution_of(flip.line_error.knowledge),
                           flip.line_error.size_mm);
  cause.setting = "flip.line_error";
  cause.sensitivity = [flip](const WallSample& p) { return 2 * n_across(flip, p); };
  causes.push_back(cause);
}

} // namespace leastwall
