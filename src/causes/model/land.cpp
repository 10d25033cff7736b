#include "causes/model/land.h"

#include <cmath>
#include <utility>

namespace leastwall {

std::function<bool(const WallSample&)> land_of(const Setup& setup) {
  if (!setup.has_land)
    return [](const WallSample&) { return false; };
  if (setup.all_land)
    return [](const WallSample&) { return true; };
  constexpr double kRounding = 1e-9; // mm a mm of height; and of a direction
  const double from = setup.top_z_mm - kRounding * (1 + std::abs(setup.top_z_mm));
  return
      [from](const WallSample& p) { return p.n.z <= -1 + kRounding && p.at.z + p.wall_mm >= from; };
}

void spare_land(const Setup& setup, std::vector<Cause>& causes) {
  if (!setup.has_land)
    return;
  const auto spare = [land = land_of(setup)](Sensitivity& sensitivity) {
    if (sensitivity)
      sensitivity = [land, was = std::move(sensitivity)](const WallSample& p) {
        return land(p) ? 0.0 : was(p);
      };
  };
  for (Cause& cause : causes) {
    // How the board lay when holes were drilled into that face is not the face's own.
    if (cause.id.side != Side::a || cause.id.kind == CauseKind::dowel_play ||
        cause.id.kind == CauseKind::flip_line)
      continue;
    spare(cause.sensitivity);
    spare(cause.sensitivity_2);
    for (Sensitivity& way : cause.ways)
      spare(way);
  }
}

} // namespace leastwall
