#include "causes/flip/pin_play.h"

#include "base/maths/hypot.h"

#include <algorithm>

namespace leastwall {

void set_pin_play(const PinPair& pins, double towards, double sign, Cause& cause) {
  // u runs along the pins, v across, turned a quarter counter-clockwise from u.
  const Point2 u = pins.along, v{-u.y, u.x};
  cause.sensitivity = [u, sign](const WallSample& p) {
    return sign * (p.n.x * u.x + p.n.y * u.y) / 4;
  };
  cause.sensitivity_2 = [u, v, middle = pins.middle, spacing = pins.spacing_mm, towards,
                         sign](const WallSample& p) {
    const double dx = p.at.x - middle.x, dy = p.at.y - middle.y;
    const double x = dx * u.x + dy * u.y, y = dx * v.x + dy * v.y;
    const double nu = p.n.x * u.x + p.n.y * u.y, nv = p.n.x * v.x + p.n.y * v.y;
    return sign * (nv * (0.5 + towards * x / spacing) - towards * nu * y / spacing) / 2;
  };
  // With |(nu, nv)| <= 1: the second is no longer than |(1/2 + x/spacing, y/spacing)| / 2, which is
  // largest at a corner.
  cause.bound = [u, v, middle = pins.middle, spacing = pins.spacing_mm,
                 towards](const Places& places) {
    double most = 0;
    for (const double px : {places.at.low.x, places.at.high.x})
      for (const double py : {places.at.low.y, places.at.high.y}) {
        const double dx = px - middle.x, dy = py - middle.y;
        const double x = dx * u.x + dy * u.y, y = dx * v.x + dy * v.y;
        most = std::max(most, maths::hypot(0.5 + towards * x / spacing, y / spacing));
      }
    return maths::hypot(0.25, most / 2);
  };
}

} // namespace leastwall
