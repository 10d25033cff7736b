// A casting resin as its data sheet and the carver state it. Unknown is absent, never zero.
#pragma once

#include <optional>

namespace leastwall {

/// How much of component A goes with how much of component B.
struct MixRatio {
  double a = 0, b = 0; ///< both over 0
  bool by_weight = false;
  bool operator==(const MixRatio&) const = default;
};

struct Resin {
  std::optional<MixRatio> ratio;
  std::optional<double> density_a, density_b; ///< g/cm3, of the liquid components
  std::optional<double> deepest_lift_mm;      ///< that one pour may be
  std::optional<double> hours_between_lifts;  ///< from the pour of a lift to that of the next
  std::optional<double> hours_until_cut;      ///< from the last pour until a bit may cut it
  std::optional<double> overage_percent;      ///< mixed beyond what the pocket holds
  std::optional<double> cup_ml;               ///< what the mixing cup holds, brim-full
  std::optional<double> seal_coat_g_per_m2;   ///< of a coat brushed on before the first lift
  std::optional<double> thin_wall_mm;         ///< walls under this are told: resin or heat may show
  bool operator==(const Resin&) const = default;
};

/// How the board lies while the resin is liquid.
struct Tilt {
  double slope = 0; ///< fall for each mm of the way, over 0
  /// Direction in which it falls, seen from above with the pocket face up, counter-clockwise from
  /// model x; absent: nobody knows.
  std::optional<double> towards_deg;
  bool operator==(const Tilt&) const = default;
};

} // namespace leastwall
