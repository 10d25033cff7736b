#include "report/cells_with_spots.h"

namespace leastwall {

std::vector<Tri> cells_with_spots(const WallMap& map) {
  std::vector<Tri> cells = map.cells;
  std::vector<unsigned char> split(cells.size(), 0);
  for (const WallMap::Spot& spot : map.spots) {
    if (split[spot.cell] != 0)
      continue;
    split[spot.cell] = 1;
    const Tri c = map.cells[spot.cell];
    cells[spot.cell] = {c[0], c[1], spot.sample};
    cells.push_back({c[1], c[2], spot.sample});
    cells.push_back({c[2], c[0], spot.sample});
  }
  return cells;
}

} // namespace leastwall
