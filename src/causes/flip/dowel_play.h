// Play of the dowels that bring the board back after the flip.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "causes/model/cuts.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// Play of two dowels a distance L apart, diametral clearances C1 and C2: at each pin the board is
/// off by a vector q_i anywhere in a disc of radius C_i/2, the two independent (along the pin line
/// the stiff distance between them forbids some of it: cautious). With X measured from the middle
/// of the pins towards pin 2 and Y across, the board is shifted by (q1 + q2)/2 and turned by
/// theta = (q2_v - q1_v)/L, so a point (X, Y) moves along the pins by (q1_u + q2_u)/2 - theta Y and
/// across by (q1_v + q2_v)/2 + theta X. Sensitivities to pin 1: n_u/2 along, n_v (1/2 - X/L) +
/// n_u Y/L across; to pin 2: n_u/2, n_v (1/2 + X/L) - n_u Y/L. Equal clearances C: a shift of up to
/// C/2 between the pins and C s/L at a distance s beyond them. The size of a cause is its
/// clearance, so its sensitivities are half of these. A board that is put back on its pins with the
/// same face up has that play anew, too.
void add_dowel_play(const Setup& setup, const CutView& cut, std::vector<Cause>& causes,
                    std::vector<Assumption>& assumptions);

} // namespace leastwall
