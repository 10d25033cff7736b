// What to measure out: the two components of a mix by volume and by weight.
#pragma once

#include "pour/resin.h"

#include <optional>

namespace leastwall {

/// Absent where the resin's stated values do not tell it.
struct Amounts {
  std::optional<double> a_mm3, b_mm3, a_g, b_g;
  std::optional<double> whole_g() const {
    return a_g && b_g ? std::optional(*a_g + *b_g) : std::nullopt;
  }
};

/// Of `mix_mm3` of the liquid mix. Volumes are added: what the mix shrinks in curing is not
/// counted. A ratio by weight needs both densities for anything.
Amounts components(double mix_mm3, const Resin& resin);

/// The ratio by the other measure, with b of 1; absent without ratio and both densities.
std::optional<MixRatio> other_ratio(const Resin& resin);

/// Part of a cup that is filled at once, so that there is room to stir (common practice).
inline constexpr double kCupFilled = 0.75;

} // namespace leastwall
