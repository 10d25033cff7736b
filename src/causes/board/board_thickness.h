// The board is not as thick as the programs assume.
#pragma once

#include "base/assumption.h"
#include "causes/model/cause.h"
#include "setup/setup.h"

#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// The thickness each program assumes, mm; absent where nothing says it.
struct AssumedThickness {
  std::optional<double> a, b;
};

/// A side's own value, else the board's, else the measured thickness, else the mean reading.
AssumedThickness assumed_thickness(const Setup& setup, std::vector<Assumption>& assumptions);

/// The board as it is, mm: measured, else the mean reading, else what the board is said to be. What
/// one side's program was made for says nothing about the wood; only where nothing else is stated
/// it stands in, and of two the one that leaves less wall (an assumption tells). Absent where
/// nothing says it.
std::optional<double> real_thickness(const Setup& setup, std::vector<Assumption>& assumptions);

/// Appends what thickness does to the wall. Derivation, measured upwards from the board's skin face
/// (lower face on side A), t(.) the true thickness, d the design depth of the floor below the
/// pocket face, H the design height of the skin below the pocket face's plane (H - d = design wall
/// straight down), a and b the touch points, k = 1 for zero on top, 0 for zero on the bed:
///   side A, top:  the face touched is at t(a); the floor is cut d below it:        P = t(a) - d
///   side A, bed:  the floor is cut T_A - d above the bed:                          P = T_A - d
///   side B, top:  the program goes T_B - H below the touched skin face, so above the pocket face
///                 (now on the bed) the skin is at  t(b) - (T_B - H)
///   side B, bed:  the skin is cut H above the bed.
/// From the skin face the skin is at t(x) minus that, so the wall is P - (t(x) - S):
///   E_T(x) = k_A t(a) + (1 - k_A) T_A + k_B (t(b) - T_B) - t(x).
/// With T_A = T_B = T and tau = t - T this is k_A tau(a) + k_B tau(b) - tau(x). A thickness error
/// that is the same everywhere counts (k_A + k_B - 1) times: once for two tops, minus once for two
/// beds, not at all when both surfaces hang from the same face.
/// T_A matters only for zero on the bed on side A, T_B only for zero on top on side B.
/// The land (wood up to the pocket face, beside the pocket) ends in a face that side A does not
/// cut: P = t(x) there, and what is left of E is k_B (t(b) - T_B). So with A on the bed and B on
/// top a thin board leaves the walls as they are and the land thinner. Readings beyond which
/// nothing is known: there the board is taken as thick as its thickest reading under the wall and
/// as thin as its thinnest one under a touch point (thinner wall). `variation` (no readings): t
/// varies by +-v from place to place, so v at each touch point that counts (once, doubled, when
/// both are the same place) and v under the wall, independent.
/// Two cuts of the same side: P_inner - P_outer (side A), where t(x) has no part, and nothing at
/// all where both hang from the same datum.
void add_board_thickness(const Setup& setup, std::vector<Cause>& causes,
                         std::vector<Assumption>& assumptions);

} // namespace leastwall
