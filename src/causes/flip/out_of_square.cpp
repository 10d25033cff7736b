#include "causes/flip/out_of_square.h"

#include "base/assumption.h"
#include "causes/flip/flip_terms.h"
#include "setup/place.h"

#include <cmath>

namespace leastwall {

void add_out_of_square(const Setup& setup, std::vector<Cause>& causes,
                       std::vector<Assumption>& assumptions) {
  const Flip flip = setup.flip;
  if (flip.out_of_square_mm_per_m == 0)
    return;
  const bool edges = flip.located_by == LocatedBy::edges;
  const bool use_along = edges || !flip.dowels || flip.dowels->along_flip_line;
  const bool use_across = edges || (flip.dowels && !flip.dowels->along_flip_line);
  const double from = use_across ? along_line(flip, middle_of_pins(setup, assumptions)) : 0.0;
  Cause cause =
      flip_cause({CauseKind::out_of_square}, Distribution::rectangle, flip.out_of_square_mm_per_m);
  cause.setting = "flip.out_of_square";
  cause.unit = "mm/m";
  cause.sensitivity = [flip, use_along, use_across, from](const WallSample& p) {
    const Point2 place{p.at.x, p.at.y};
    const double a = use_along ? n_along(flip, p) * across_line(flip, place) : 0;
    const double b = use_across ? n_across(flip, p) * (along_line(flip, place) - from) : 0;
    return 2e-3 * (std::abs(a) >= std::abs(b) ? a : b);
  };
  causes.push_back(cause);
}

} // namespace leastwall
