#include "report/words/wall_name.h"

#include <algorithm>
#include <fmt/format.h>
#include <numeric>
#include <optional>

namespace leastwall {

std::string wall_name(const NamedWall& wall) {
  const std::string between = wall.outer + " to " + wall.inner;
  return wall.part.empty() ? between : wall.part + ": " + between;
}

std::string wall_name_short(const NamedWall& wall) {
  return wall.part.empty() ? wall.inner : wall.part + ": " + wall.inner;
}

std::string place_number(const RegionRow& row, std::size_t index) {
  return row.of_wall > 0 ? fmt::format("{}-{}", row.of_wall, row.of_place)
                         : std::to_string(index + 1);
}

std::vector<std::size_t> worst_first(const std::vector<NamedWall>& walls) {
  std::vector<std::size_t> order(walls.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto failing = [&walls](std::size_t w) {
    const std::optional<ChanceRow>& chance = walls[w].wall.chance;
    return chance ? chance->under_limit : 0;
  };
  const auto spare = [&walls](std::size_t w) {
    return walls[w].wall.least_wall.expected_mm - walls[w].wall.limit_mm;
  };
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
    if (walls[a].wall.verdict != walls[b].wall.verdict)
      return walls[a].wall.verdict > walls[b].wall.verdict;
    if (failing(a) != failing(b))
      return failing(a) > failing(b);
    return spare(a) < spare(b);
  });
  return order;
}

std::string wall_material(const NamedWall& wall) {
  return wall.material.empty() ? "resin" : wall.material;
}

} // namespace leastwall
