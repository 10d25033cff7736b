#include "setup/number_data.h"

#include <algorithm>
#include <optional>
#include <vector>

namespace leastwall {
namespace {

struct Datum {
  const SideSetup* how = nullptr;
  CutId* id = nullptr;
};

bool same(const Datum& a, const Datum& b) {
  return a.id->side == b.id->side && a.id->board == b.id->board && same_datum(*a.how, *b.how);
}

/// Numbers that a job with one wall has: 0 where both sides touch one point, else 1 on side A and 2
/// on side B.
std::uint32_t first_number(const Datum& datum, bool sides_share) {
  return sides_share ? 0 : datum.id->side == Side::a ? 1 : 2;
}

} // namespace

void number_data(std::span<Setup> walls) {
  if (walls.size() < 2)
    return;
  std::vector<Datum> all;
  for (Setup& wall : walls) {
    all.push_back({&wall.inner, &wall.inner_cut});
    all.push_back({&wall.outer, &wall.outer_cut});
  }
  const auto first_of = [&all](Side side) {
    return std::ranges::find_if(
        all, [side](const Datum& d) { return d.id->side == side && d.id->set_up == 0; });
  };
  const auto a = first_of(Side::a), b = first_of(Side::b);
  const bool share = a != all.end() && b != all.end() && a->how->touch_point == b->how->touch_point;
  struct Place {
    std::optional<Point2> at;
    std::uint32_t number = 0;
  };
  std::vector<Place> places;
  std::uint32_t next = 3;
  for (const auto& first : {a, b})
    if (first != all.end() && (first == a || !share))
      places.push_back({first->how->touch_point, first_number(*first, share)});
  for (Datum& d : all) {
    const auto first = std::ranges::find_if(all, [&d](const Datum& o) { return same(o, d); });
    d.id->datum = first->id->set_up;
    auto place =
        std::ranges::find_if(places, [&d](const Place& p) { return p.at == d.how->touch_point; });
    if (place == places.end())
      place = places.insert(places.end(), {d.how->touch_point, next++});
    d.id->touch_place = place->number;
  }
}

} // namespace leastwall
