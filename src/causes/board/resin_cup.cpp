#include "causes/board/resin_cup.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "causes/model/cause_terms.h"
#include "setup/place.h"
#include <fmt/format.h>

namespace leastwall {

void add_resin_cup(const Setup& setup, std::vector<Cause>& causes,
                   std::vector<Assumption>& assumptions) {
  if (!(setup.board.resin_cup_mm >= 0)) // the board stands on the bed: its middle cannot sink
    throw InputError(fmt::format("the lift of the board's middle must be 0 or more mm, not {}; a "
                                 "board whose edges lift rests on its middle: press it flat",
                                 setup.board.resin_cup_mm));
  if (setup.board.resin_cup_mm == 0 || !through_board(setup))
    return; // two cuts of one side lie on the same bow
  const Footprint f = footprint_of(setup);
  const Point2 middle = f.middle();
  const double hx = (f.high.x - f.low.x) / 2, hy = (f.high.y - f.low.y) / 2;
  const auto shape = [=](Point2 p) {
    const double dx = p.x - middle.x, dy = p.y - middle.y;
    return 1 - (dx * dx + dy * dy) / (hx * hx + hy * hy);
  };
  double reference = 0;
  if (setup.outer.zero == ZeroFrom::top)
    reference = shape(touch_point_of(setup, Side::b, assumptions));
  Cause cause;
  cause.id = id_of(CauseKind::resin_cup, cuts_of(setup)[1]);
  cause.setting = "board.resin_cup";
  cause.distribution = Distribution::shift;
  cause.size = setup.board.resin_cup_mm;
  cause.sensitivity = [=](const WallSample& p) {
    return vertical(p) * (reference - shape({p.at.x, p.at.y}));
  };
  cause.bound = [=](const Places& places) {
    const Vec3 low = places.at.low, high = places.at.high;
    const Point2 nearest{std::clamp(middle.x, low.x, high.x), std::clamp(middle.y, low.y, high.y)};
    double most = std::abs(reference - shape(nearest));
    for (const double x : {low.x, high.x}) // the farthest is a corner
      for (const double y : {low.y, high.y})
        most = std::max(most, std::abs(reference - shape({x, y})));
    return most;
  };
  causes.push_back(cause);
  note(assumptions, "the resin bows the board evenly: highest in the middle, corners on the bed");
}

} // namespace leastwall
