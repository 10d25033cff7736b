#include "causes/board/swelling.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "causes/board/board_thickness.h"
#include "causes/model/cause_terms.h"
#include "causes/model/cuts.h"
#include "setup/wood_table.h"

#include <algorithm>
#include <array>

namespace leastwall {
namespace {

double swelling_per_percent(const Board& board) {
  if (board.swelling_per_percent)
    return *board.swelling_per_percent;
  if (board.species && board.grain) {
    const WoodSpecies& wood = find_wood(*board.species);
    return *board.grain == Board::Grain::radial ? wood.radial_per_percent
                                                : wood.tangential_per_percent;
  }
  throw InputError("moisture changes between the sides, but nothing says how much the wood swells: "
                   "state the species and grain, or the swelling per percent");
}

} // namespace

void add_swelling(const Setup& setup, std::vector<Cause>& causes,
                  std::vector<Assumption>& assumptions) {
  const Board& board = setup.board;
  const std::array<CutView, 2> cuts = cuts_of(setup);
  const auto gained = [&board](const CutView& cut) { // when it is cut
    return cut.how.moisture_gain_percent.value_or(
        cut.id.side == Side::b ? board.moisture_change_percent : 0);
  };
  // Told per unit of the gain until side B, where there is one.
  const double gain = board.moisture_change_percent != 0 ? board.moisture_change_percent
                      : gained(cuts[0]) != 0             ? gained(cuts[0])
                                                         : gained(cuts[1]);
  if (gain == 0)
    return;
  const double inner = gained(cuts[0]) / gain, outer = gained(cuts[1]) / gain;
  const double per_percent = swelling_per_percent(board);
  const auto top = [](const CutView& cut) { return cut.how.zero == ZeroFrom::top; };
  const bool wood = through_board(setup);
  const double of_thickness =
      (top(cuts[0]) ? inner : 0) - (top(cuts[1]) == wood ? 0 : outer); // 1 - k_o, else k_o
  const double of_height = outer - inner; // of the floor; of what the fill stands on
  if (of_thickness == 0 && of_height == 0)
    return;
  const double top_z = setup.top_z_mm;
  double thickness_mm = 0;
  if (setup.outer_in_fill ||
      of_thickness + of_height != 0) { // else T - u is the depth below the pocket face
    const std::optional<double> thickness = real_thickness(setup, assumptions);
    if (!thickness)
      throw InputError("swelling with side B zeroed on top needs the thickness of the board: state "
                       "it");
    thickness_mm = *thickness;
  }
  Cause cause;
  cause.id = {CauseKind::swelling};
  cause.setting = "board.moisture_gain";
  cause.distribution = Distribution::shift;
  cause.size = gain;
  cause.unit = "% moisture";
  const bool of_outer = !wood, deeper = setup.outer_in_fill;
  cause.sensitivity = [=](const WallSample& p) {
    const double z = of_outer ? p.at.z : p.at.z - p.n.z * p.wall_mm;
    // T of_thickness + (T - depth) of_height
    const double change = vertical(p) * per_percent *
                          ((of_thickness + of_height) * thickness_mm - of_height * (top_z - z));
    if (!deeper)
      return change;
    // The floor it rides on lies anywhere between there and the skin face: the thinner wall.
    const double on_face = vertical(p) * per_percent * of_thickness * thickness_mm;
    return gain > 0 ? std::min(change, on_face) : std::max(change, on_face);
  };
  cause.bound = [=](const Places& places) {
    const double beside = of_outer ? 0 : places.most_wall_mm;
    double most = deeper ? std::abs(of_thickness * thickness_mm) : 0;
    for (const double z : {places.at.low.z - beside, places.at.high.z + beside})
      most = std::max(
          most, std::abs((of_thickness + of_height) * thickness_mm - of_height * (top_z - z)));
    return std::abs(per_percent) * most;
  };
  causes.push_back(cause);
}

} // namespace leastwall
