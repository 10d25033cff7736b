// Wood swells or shrinks between one set-up and another.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace leastwall {

/// The board swells by a fraction s through its thickness (moisture gain times the coefficient of
/// the wood, its own or the species' in the Wood Handbook along the grain direction that runs
/// through the thickness; shrinking is negative). With s_i and s_o how much it has swollen when the
/// inner and the outer cut are made, T the board's thickness, u_i and u_o the heights of the two
/// surfaces above the board's skin face, k = 1 for zero on top, 0 for zero on the bed. A cut of
/// side A stands k s T higher than drawn, one of side B (1 - k) s T (its face is s T higher, and
/// zero on top follows it), and what is cut in wood goes on moving with it:
/// * wood between side A and side B:  k_i s_i T + (s_o - s_i) u_i - (1 - k_o) s_o T. With one
/// pocket
///   (s_i = 0, s_o = s): -s (T - u) for side B zeroed on the bed, +s u for zero on top;
/// * what was poured into the outer cut does not swell, and rides on the floor it stands on:
///   k_i s_i T - k_o s_o T - (s_i - s_o) u_o;  where the outer cut lies in such a fill itself, u_o is
///   the height of the floor under that, anywhere from 0 to u_o: the thinner wall counts.
/// Times v = -n_z. Products with other errors (s tau, a few micrometres at most) are left out. The
/// swelling of the finished wall itself is left out too.
/// Throws InputError when moisture changes and nothing gives the coefficient, or the board's
/// thickness is not known and matters.
void add_swelling(const Setup& setup, std::vector<Cause>& causes,
                  std::vector<Assumption>& assumptions);

} // namespace leastwall
