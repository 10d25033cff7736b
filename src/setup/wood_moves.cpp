#include "setup/wood_moves.h"

#include "base/errors.h"
#include "setup/board_thickness.h"
#include "setup/cause_terms.h"
#include "setup/place.h"
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
                  std::vector<std::string>& assumptions) {
  const Board& board = setup.board;
  if (board.moisture_change_percent == 0)
    return;
  const double per_percent = swelling_per_percent(board);
  const bool top = setup.side_b.zero == ZeroFrom::top;
  const double top_z = setup.top_z_mm;
  double skin_face_z = 0;
  if (top) {
    const AssumedThickness assumed = assumed_thickness(setup, assumptions);
    if (!assumed.b)
      throw InputError("swelling with side B zeroed on top needs the thickness of the board: state "
                       "the assumed thickness");
    skin_face_z = top_z - *assumed.b;
  }
  Cause cause;
  cause.key = "swelling";
  cause.name = "wood swells between sides";
  cause.distribution = Distribution::shift;
  cause.size = board.moisture_change_percent;
  cause.unit = "% moisture";
  cause.sensitivity = [=](const CausePoint& p) {
    const double floor_z = p.at.z - p.n.z * p.wall_mm;
    return vertical(p) * per_percent * (top ? floor_z - skin_face_z : -(top_z - floor_z));
  };
  causes.push_back(cause);
}

void add_resin_cup(const Setup& setup, std::vector<Cause>& causes,
                   std::vector<std::string>& assumptions) {
  if (setup.board.resin_cup_mm == 0)
    return;
  const Footprint f = footprint_of(setup);
  const Point2 middle = f.middle();
  const double hx = (f.high.x - f.low.x) / 2, hy = (f.high.y - f.low.y) / 2;
  const auto shape = [=](Point2 p) {
    const double dx = p.x - middle.x, dy = p.y - middle.y;
    return 1 - (dx * dx + dy * dy) / (hx * hx + hy * hy);
  };
  double reference = 0;
  if (setup.side_b.zero == ZeroFrom::top)
    reference = shape(touch_point_of(setup, Side::b, assumptions));
  Cause cause;
  cause.key = "resin-cup";
  cause.name = "resin pulls board hollow";
  cause.side = Side::b;
  cause.distribution = Distribution::shift;
  cause.size = setup.board.resin_cup_mm;
  cause.sensitivity = [=](const CausePoint& p) {
    return vertical(p) * (reference - shape({p.at.x, p.at.y}));
  };
  causes.push_back(cause);
  note(assumptions, "the resin bows the board evenly: highest in the middle, corners on the bed");
}

} // namespace leastwall
