// What a board does that can move by the play of two pins.
#pragma once

#include "causes/model/cause.h"
#include "space/footprint.h"

namespace leastwall {

/// Two pins a distance apart; `along`: unit vector from pin 1 to pin 2.
struct PinPair {
  Point2 middle;
  Point2 along;
  double spacing_mm = 1;
};

/// Sets both sensitivities of a cause whose size is the diametral clearance at one of the pins
/// (`towards` -1: pin 1, +1: pin 2) and whose distribution is a disc: the vector there reaches half
/// of that any way. Derivation: dowel_play.h. `sign`: +1 where the outer cut moves.
void set_pin_play(const PinPair& pins, double towards, double sign, Cause& cause);

} // namespace leastwall
