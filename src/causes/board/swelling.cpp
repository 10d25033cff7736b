#include "causes/board/swelling.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "causes/board/board_thickness.h"
#include "causes/model/cause_terms.h"
#include "setup/wood_table.h"

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
  if (board.moisture_change_percent == 0)
    return;
  const double per_percent = swelling_per_percent(board);
  const bool top = setup.side_b.zero == ZeroFrom::top;
  const double top_z = setup.top_z_mm;
  double skin_face_z = 0;
  if (top) {
    const std::optional<double> thickness = real_thickness(setup, assumptions);
    if (!thickness)
      throw InputError("swelling with side B zeroed on top needs the thickness of the board: state "
                       "it");
    skin_face_z = top_z - *thickness;
  }
  Cause cause;
  cause.id = {CauseKind::swelling};
  cause.setting = "board.moisture_gain";
  cause.distribution = Distribution::shift;
  cause.size = board.moisture_change_percent;
  cause.unit = "% moisture";
  cause.sensitivity = [=](const WallSample& p) {
    const double floor_z = p.at.z - p.n.z * p.wall_mm;
    return vertical(p) * per_percent * (top ? floor_z - skin_face_z : -(top_z - floor_z));
  };
  causes.push_back(cause);
}

} // namespace leastwall
