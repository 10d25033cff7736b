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
       fmt::format("the middle of the dowels is on the flip line beside the middle of the part, "
                   "x {:.1f} y {:.1f}",
                   p.x, p.y));
  return p;
}

Cause flip_cause(const CauseId& id, Distribution distribution, double size) {
  Cause cause;
  cause.id = id;
  cause.distribution = distribution;
  cause.size = size;
  return cause;
}

} // namespace leastwall
