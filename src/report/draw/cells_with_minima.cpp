#include "report/draw/cells_with_minima.h"

namespace leastwall {

std::vector<Tri> cells_with_minima(const WallMap& map) {
  std::vector<Tri> cells = map.cells;
  std::vector<unsigned char> split(cells.size(), 0);
  for (const WallMap::Minimum& minimum : map.minima) {
    if (split[minimum.cell] != 0)
      continue;
    split[minimum.cell] = 1;
    const Tri c = map.cells[minimum.cell];
    cells[minimum.cell] = {c[0], c[1], minimum.sample};
    cells.push_back({c[1], c[2], minimum.sample});
    cells.push_back({c[2], c[0], minimum.sample});
  }
  return cells;
}

} // namespace leastwall
