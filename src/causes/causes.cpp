#include "causes/causes.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "causes/bed/bed_flatness.h"
#include "causes/bed/bed_lift.h"
#include "causes/bed/reading_errors.h"
#include "causes/bit/ball_radius.h"
#include "causes/bit/roughing.h"
#include "causes/bit/runout.h"
#include "causes/bit/sanding.h"
#include "causes/bit/tip_height.h"
#include "causes/bit/touch_off.h"
#include "causes/board/board_thickness.h"
#include "causes/board/resin_cup.h"
#include "causes/board/swelling.h"
#include "causes/flip/dowel_play.h"
#include "causes/flip/flip_line.h"
#include "causes/flip/out_of_square.h"
#include "causes/model/land.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {

std::vector<Cause> causes_of(const Setup& setup, std::vector<Assumption>& assumptions) {
  std::vector<Cause> causes;
  for (const Side side : {Side::a, Side::b}) {
    add_touch_off(setup, side, causes);
    add_tip_height(setup, side, causes);
    add_roughing(setup, side, causes);
    add_ball_radius(setup, side, causes);
    add_runout(setup, side, causes);
    add_sanding(setup, side, causes, assumptions);
    add_bed_flatness(setup, side, causes);
    add_bed_lift(setup, side, causes, assumptions);
  }
  add_reading_errors(setup, causes, assumptions);
  add_board_thickness(setup, causes, assumptions);
  add_flip_line(setup, causes, assumptions);
  add_dowel_play(setup, causes, assumptions);
  add_out_of_square(setup, causes, assumptions);
  add_swelling(setup, causes, assumptions);
  add_resin_cup(setup, causes, assumptions);
  spare_land(setup, causes);
  for (const Cause& c : causes)
    if (!std::isfinite(c.size) || (c.distribution != Distribution::shift && c.size < 0))
      throw InputError(fmt::format("{}: {} is not a size, state 0 or more",
                                   c.setting.empty() ? "the board" : c.setting, c.size));
  return causes;
}

} // namespace leastwall
