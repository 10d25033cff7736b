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
#include "causes/model/cuts.h"
#include "causes/model/join_same.h"
#include "causes/model/land.h"

#include <array>
#include <cmath>
#include <fmt/format.h>

namespace leastwall {

std::vector<Cause> causes_of(const Setup& setup, std::vector<Assumption>& assumptions) {
  std::vector<Cause> causes;
  const std::array<CutView, 2> cuts = cuts_of(setup);
  for (const CutView& cut : cuts) {
    add_touch_off(cut, causes);
    add_tip_height(cut, causes);
    add_roughing(cut, causes);
    add_ball_radius(cut, causes);
    add_runout(cut, causes);
    add_sanding(setup, cut, causes, assumptions);
    add_bed_flatness(setup, cut, causes);
    add_bed_lift(setup, cut, causes, assumptions);
  }
  add_reading_errors(setup, causes, assumptions);
  add_board_thickness(setup, causes, assumptions);
  for (const CutView& cut : cuts) {
    add_flip_line(setup, cut, causes, assumptions);
    add_dowel_play(setup, cut, causes, assumptions);
    add_out_of_square(setup, cut, causes, assumptions);
  }
  add_swelling(setup, causes, assumptions);
  add_resin_cup(setup, causes, assumptions);
  join_same(causes);
  spare_land(setup, causes);
  for (Cause& cause : causes) // both cuts of a wall are made in one board
    if (!of_all_boards(cause.id.kind))
      cause.id.board = setup.outer_cut.board;
  for (const Cause& c : causes)
    if (!std::isfinite(c.size) || (c.distribution != Distribution::shift && c.size < 0))
      throw InputError(fmt::format("{}: {} is not a size, state 0 or more",
                                   c.setting.empty() ? "the board" : c.setting, c.size));
  return causes;
}

} // namespace leastwall
