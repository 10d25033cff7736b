#include "wall/regions/thin_regions.h"

#include "base/parallel.h"
#include "wall/regions/least_places.h"

#include <algorithm>
#include <cstdint>
#include <limits>

namespace leastwall {
namespace {

/// Area of the part of a cell whose linearly interpolated value is under the limit.
double area_under_in(const WallMap& map, const Tri& cell, std::span<const double> values,
                     double limit) {
  if (!(values[cell[0]] < limit || values[cell[1]] < limit || values[cell[2]] < limit))
    return 0;
  Vec3 kept[4];
  std::size_t count = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    const std::uint32_t a = cell[i], b = cell[(i + 1) % 3];
    const Vec3 p = map.samples[a].at, q = map.samples[b].at;
    const double va = values[a], vb = values[b];
    if (va < limit)
      kept[count++] = p;
    if ((va < limit) != (vb < limit))
      kept[count++] = p + (q - p) * ((limit - va) / (vb - va));
  }
  double sum = 0;
  for (std::size_t i = 2; i < count; ++i)
    sum += 0.5 * length(cross(kept[i - 1] - kept[0], kept[i] - kept[0]));
  return sum;
}

constexpr std::size_t kGrain = 1 << 12, kBatch = 1 << 18; // cells

} // namespace

double area_under(const WallMap& map, std::span<const double> values, double limit_mm) {
  std::vector<double> sums((map.cells.size() + kGrain - 1) / kGrain);
  for_blocks(map.cells.size(), kGrain, {}, [&](std::size_t begin, std::size_t end) {
    double sum = 0;
    for (std::size_t k = begin; k < end; ++k)
      sum += area_under_in(map, map.cells[k], values, limit_mm);
    sums[begin / kGrain] = sum;
  });
  double sum = 0;
  for (const double part : sums)
    sum += part;
  return sum;
}

std::vector<ThinRegion> thin_regions(const WallMap& map, std::span<const double> judged,
                                     std::span<const double> shown, double limit_mm) {
  constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();
  const auto under = [&](std::uint32_t s) { return judged[s] < limit_mm; };
  const std::vector<std::uint32_t> place = least_places(map, judged, shown, limit_mm);

  std::vector<ThinRegion> regions;
  std::vector<std::uint32_t> slot(map.samples.size(), kNone);
  const auto region_of = [&](std::uint32_t sample) -> ThinRegion& {
    const std::uint32_t root = place[sample];
    if (slot[root] == kNone) {
      slot[root] = static_cast<std::uint32_t>(regions.size());
      regions.push_back({sample, std::numeric_limits<double>::infinity(),
                         std::numeric_limits<double>::infinity(), 0, 0});
    }
    return regions[slot[root]];
  };
  const auto note = [&](std::uint32_t s) {
    if (!under(s))
      return;
    ThinRegion& r = region_of(s);
    r.least_judged_mm = std::min(r.least_judged_mm, judged[s]);
    if (shown[s] < r.least_shown_mm || (shown[s] == r.least_shown_mm && s < r.thinnest)) {
      r.least_shown_mm = shown[s];
      r.thinnest = s;
    }
  };
  struct Areas {
    double judged = 0, shown = 0;
  };
  std::vector<Areas> areas(std::min(kBatch, map.cells.size()));
  for (std::size_t from = 0; from < map.cells.size(); from += kBatch) {
    const std::span cells = std::span(map.cells).subspan(from);
    const std::size_t count = std::min(kBatch, cells.size());
    for_blocks(count, kGrain, {}, [&](std::size_t begin, std::size_t end) {
      for (std::size_t k = begin; k < end; ++k)
        if (std::ranges::any_of(cells[k], under))
          areas[k] = {area_under_in(map, cells[k], judged, limit_mm),
                      area_under_in(map, cells[k], shown, limit_mm)};
    });
    for (std::size_t k = 0; k < count; ++k) {
      for (const std::uint32_t s : cells[k])
        note(s);
      if (const auto s = std::ranges::find_if(cells[k], under); s != cells[k].end()) {
        ThinRegion& r = region_of(*s);
        r.area_mm2 += areas[k].judged;
        r.area_shown_mm2 += areas[k].shown;
      }
    }
  }
  for (const WallMap::Minimum& minimum : map.minima)
    note(minimum.sample);
  std::sort(regions.begin(), regions.end(), [](const ThinRegion& a, const ThinRegion& b) {
    if (a.least_shown_mm != b.least_shown_mm)
      return a.least_shown_mm < b.least_shown_mm;
    if (a.least_judged_mm != b.least_judged_mm)
      return a.least_judged_mm < b.least_judged_mm;
    return a.thinnest < b.thinnest;
  });
  return regions;
}

} // namespace leastwall
