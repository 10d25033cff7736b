#include "causes/flip/flip_terms.h"

#include "base/assumption.h"
#include "causes/model/cause_terms.h"
#include "setup/place.h"

#include <fmt/format.h>
#include <utility>

namespace leastwall {

Point2 middle_of_pins(const Setup& setup, std::vector<Assumption>& assumptions) {
  const Flip& flip = setup.flip;
  if (flip.dowels && flip.dowels->middle)
    return *flip.dowels->middle;
  const Point2 p = on_line(flip, 0, along_line(flip, footprint_of(setup).middle()));
  note(assumptions,
       fmt::format("The middle of the dowels is at x {:.1f} y {:.1f} on the flip line.", p.x, p.y));
  return p;
}

Seat seat_of(const CutId& cut) {
  return cut.side == Side::b ? Seat::turned : cut.set_up == 0 ? Seat::first : Seat::put_back;
}

bool one_set_up(const Setup& setup) {
  return same_side(setup) && setup.inner_cut.set_up == setup.outer_cut.set_up;
}

Cause flip_cause(CauseKind kind, const CutView& cut, Distribution distribution, double size) {
  Cause cause;
  cause.id = id_of(kind, cut);
  if (cut.id.side == Side::b)
    cause.id.side.reset(); // of the flip
  cause.distribution = distribution;
  cause.size = size;
  return cause;
}

} // namespace leastwall
