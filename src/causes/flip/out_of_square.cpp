#include "causes/flip/out_of_square.h"

#include "base/assumption.h"
#include "causes/flip/flip_terms.h"
#include "setup/place.h"

#include <algorithm>
#include <cmath>

namespace leastwall {

void add_out_of_square(const Setup& setup, const CutView& cut, std::vector<Cause>& causes,
                       std::vector<Assumption>& assumptions) {
  const Flip flip = setup.flip;
  if (flip.out_of_square_mm_per_m == 0 || seat_of(cut.id) != Seat::turned || same_side(setup))
    return;
  const bool edges = flip.located_by == LocatedBy::edges;
  const bool use_along = edges || !flip.dowels || flip.dowels->along_flip_line;
  const bool use_across = edges || (flip.dowels && !flip.dowels->along_flip_line);
  const double from = use_across ? along_line(flip, middle_of_pins(setup, assumptions)) : 0.0;
  Cause cause = flip_cause(CauseKind::out_of_square, cut, Distribution::rectangle,
                           flip.out_of_square_mm_per_m);
  cause.id.set_up = 0; // of the machine
  cause.setting = "flip.out_of_square";
  cause.unit = "mm/m";
  cause.sensitivity = [flip, use_along, use_across, from,
                       sign = cut.sideways](const WallSample& p) {
    const Point2 place{p.at.x, p.at.y};
    const double a = use_along ? n_along(flip, p) * across_line(flip, place) : 0;
    const double b = use_across ? n_across(flip, p) * (along_line(flip, place) - from) : 0;
    return sign * 2e-3 * (std::abs(a) >= std::abs(b) ? a : b);
  };
  cause.bound = [flip, from](const Places& places) {
    double most = 0;
    for (const Vec3& corner : {places.at.low, places.at.high}) {
      const Point2 place{corner.x, corner.y};
      most = std::max(
          {most, std::abs(across_line(flip, place)), std::abs(along_line(flip, place) - from)});
    }
    return 2e-3 * most;
  };
  causes.push_back(cause);
}

} // namespace leastwall
