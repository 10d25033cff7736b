#include "setup/flip_errors.h"

#include "base/errors.h"
#include "setup/cause_terms.h"
#include "setup/place.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {
namespace {

// Components of n across and along the flip line.
double n_across(const Flip& flip, const CausePoint& p) {
  return flip.line == FlipLine::along_y ? p.n.x : p.n.y;
}
double n_along(const Flip& flip, const CausePoint& p) {
  return flip.line == FlipLine::along_y ? p.n.y : p.n.x;
}

Point2 middle_of_pins(const Setup& setup, std::vector<std::string>& assumptions) {
  const Flip& flip = setup.flip;
  if (flip.dowels && flip.dowels->middle)
    return *flip.dowels->middle;
  const Point2 p = on_line(flip, 0, along_line(flip, footprint_of(setup).middle()));
  note(assumptions,
       fmt::format("the middle of the dowels is on the flip line beside the middle of the part, "
                   "x {:.1f} y {:.1f}",
                   p.x, p.y));
  return p;
}

Cause flip_cause(std::string key, std::string name, Distribution distribution, double size) {
  Cause cause;
  cause.key = std::move(key);
  cause.name = std::move(name);
  cause.distribution = distribution;
  cause.size = size;
  return cause;
}

} // namespace

void add_flip_line(const Setup& setup, std::vector<Cause>& causes,
                   std::vector<std::string>& assumptions) {
  const Flip flip = setup.flip;
  if (flip.line_error.size_mm == 0) {
    if (flip.located_by == LocatedBy::edges)
      note(assumptions, "the flip line found from the edges is exact: state its error");
    return;
  }
  Cause cause = flip_cause("flip-line", "flip line", distribution_of(flip.line_error.knowledge),
                           flip.line_error.size_mm);
  cause.sensitivity = [flip](const CausePoint& p) { return 2 * n_across(flip, p); };
  causes.push_back(cause);
}

void add_dowel_play(const Setup& setup, std::vector<Cause>& causes,
                    std::vector<std::string>& assumptions) {
  const Flip flip = setup.flip;
  if (!flip.dowels || flip.located_by != LocatedBy::dowels)
    return;
  const Dowels& dowels = *flip.dowels;
  if (!(dowels.clearance_1_mm >= 0) || !(dowels.clearance_2_mm >= 0))
    throw InputError("a dowel cannot have less than no play: state clearances of 0 or more mm");
  if (dowels.clearance_1_mm == 0 && dowels.clearance_2_mm == 0)
    return;
  if (!(dowels.spacing_mm > 0) || !std::isfinite(dowels.spacing_mm))
    throw InputError("the spacing of the dowels is needed to know how far their play turns the "
                     "board: state it, above 0 mm");
  const double spacing = dowels.spacing_mm;
  const bool along = dowels.along_flip_line;
  const Point2 middle = middle_of_pins(setup, assumptions);
  for (const int pin : {1, 2}) {
    const double clearance = pin == 1 ? dowels.clearance_1_mm : dowels.clearance_2_mm;
    if (clearance == 0)
      continue;
    const double towards = pin == 1 ? -1 : 1;
    Cause cause = flip_cause("dowel-play", fmt::format("play of dowel {}", pin), Distribution::disc,
                             clearance / 2);
    // u runs along the pins, v across, turned a quarter counter-clockwise from u.
    const auto n_u = [flip, along](const CausePoint& p) {
      return along ? n_along(flip, p) : n_across(flip, p);
    };
    const bool u_is_y = along == (flip.line == FlipLine::along_y);
    cause.sensitivity = [n_u](const CausePoint& p) { return n_u(p) / 2; };
    cause.sensitivity_2 = [u_is_y, middle, spacing, towards](const CausePoint& p) {
      const double dx = p.at.x - middle.x, dy = p.at.y - middle.y;
      const double x = u_is_y ? dy : dx, y = u_is_y ? -dx : dy;
      const double nu = u_is_y ? p.n.y : p.n.x, nv = u_is_y ? -p.n.x : p.n.y;
      return nv * (0.5 + towards * x / spacing) - towards * nu * y / spacing;
    };
    causes.push_back(cause);
  }
}

void add_out_of_square(const Setup& setup, std::vector<Cause>& causes,
                       std::vector<std::string>& assumptions) {
  const Flip flip = setup.flip;
  if (flip.out_of_square_mm_per_m == 0)
    return;
  const bool edges = flip.located_by == LocatedBy::edges;
  const bool use_along = edges || !flip.dowels || flip.dowels->along_flip_line;
  const bool use_across = edges || (flip.dowels && !flip.dowels->along_flip_line);
  const double from = use_across ? along_line(flip, middle_of_pins(setup, assumptions)) : 0.0;
  Cause cause = flip_cause("out-of-square", "machine out of square", Distribution::rectangle,
                           flip.out_of_square_mm_per_m);
  cause.unit = "mm/m";
  cause.sensitivity = [flip, use_along, use_across, from](const CausePoint& p) {
    const Point2 place{p.at.x, p.at.y};
    const double a = use_along ? n_along(flip, p) * across_line(flip, place) : 0;
    const double b = use_across ? n_across(flip, p) * (along_line(flip, place) - from) : 0;
    return 2e-3 * (std::abs(a) >= std::abs(b) ? a : b);
  };
  causes.push_back(cause);
}

} // namespace leastwall
