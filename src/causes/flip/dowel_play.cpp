#include "causes/flip/dowel_play.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "causes/flip/flip_terms.h"
#include "causes/flip/pin_play.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {

void add_dowel_play(const Setup& setup, const CutView& cut, std::vector<Cause>& causes,
                    std::vector<Assumption>& assumptions) {
  const Flip flip = setup.flip;
  if (!flip.dowels || flip.located_by != LocatedBy::dowels || seat_of(cut.id) == Seat::first ||
      one_set_up(setup))
    return;
  const Dowels& dowels = *flip.dowels;
  if (!(dowels.clearance_1_mm >= 0) || !(dowels.clearance_2_mm >= 0))
    throw InputError("a dowel cannot have less than no play: state clearances of 0 or more mm");
  if (dowels.clearance_1_mm == 0 && dowels.clearance_2_mm == 0)
    return;
  if (!(dowels.spacing_mm > 0) || !std::isfinite(dowels.spacing_mm))
    throw InputError("the spacing of the dowels is needed to know how far their play turns the "
                     "board: state it, above 0 mm");
  const double spacing = dowels.spacing_mm;
  const bool along = dowels.along_flip_line;
  const Point2 middle = middle_of_pins(setup, assumptions);
  for (const std::uint32_t pin : {1u, 2u}) {
    const double clearance = pin == 1 ? dowels.clearance_1_mm : dowels.clearance_2_mm;
    if (clearance == 0)
      continue;
    const double towards = pin == 1 ? -1 : 1;
    Cause cause = flip_cause(CauseKind::dowel_play, cut, Distribution::disc, clearance);
    cause.id.instance = pin;
    // One number in the job serves both pins.
    cause.setting = dowels.each_stated ? fmt::format("flip.dowels.clearance, pin {}", pin)
                                       : std::string("flip.dowels.clearance");
    const bool along_y = along == (flip.line == FlipLine::along_y);
    set_pin_play({middle, along_y ? Point2{0, 1} : Point2{1, 0}, spacing}, towards, cut.sideways,
                 cause);
    causes.push_back(cause);
  }
}

} // namespace leastwall
