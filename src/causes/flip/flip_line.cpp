#include "causes/flip/flip_line.h"

#include "base/assumption.h"
#include "causes/flip/flip_terms.h"
#include "causes/model/cause_terms.h"

namespace leastwall {

void add_flip_line(const Setup& setup, const CutView& cut, std::vector<Cause>& causes,
                   std::vector<Assumption>& assumptions) {
  const Flip flip = setup.flip;
  const Seat seat = seat_of(cut.id);
  if (seat == Seat::first || one_set_up(setup) ||
      (seat == Seat::put_back && flip.located_by != LocatedBy::edges))
    return;
  if (flip.line_error.size_mm == 0) {
    if (flip.located_by == LocatedBy::edges)
      note(assumptions, "the flip line found from the edges is exact: state its error");
    return;
  }
  Cause cause = flip_cause(CauseKind::flip_line, cut, distribution_of(flip.line_error.knowledge),
                           flip.line_error.size_mm);
  cause.setting = "flip.line_error";
  cause.sensitivity = [flip, sign = cut.sideways](const WallSample& p) {
    return sign * 2 * n_across(flip, p);
  };
  cause.bound = at_most(2);
  causes.push_back(cause);
}

} // namespace leastwall
