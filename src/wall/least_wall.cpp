#include "wall/least_wall.h"

#include "base/parallel.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numeric>

namespace leastwall {
namespace {

constexpr std::size_t kBlock = 64;
constexpr std::size_t kCellGrain = 1 << 14;
constexpr double kDepthTolerance_mm = 0.0005;

TriangleCorners corners_of(const WallMap& map, const Tri& cell) {
  return {map.samples[cell[0]].at, map.samples[cell[1]].at, map.samples[cell[2]].at};
}

struct Candidate {
  double floor;
  std::uint32_t cell;
};

void lower_to(std::atomic<double>& best, double value) {
  double now = best.load(std::memory_order_relaxed);
  while (value < now && !best.compare_exchange_weak(now, value, std::memory_order_relaxed)) {
  }
}

} // namespace

double cell_floor(const WallMap& map, const Tri& cell) {
  const TriangleCorners c = corners_of(map, cell);
  const double longest = std::max(
      {length_squared(c[0] - c[1]), length_squared(c[1] - c[2]), length_squared(c[2] - c[0])});
  const double nearest =
      std::min({std::abs(map.samples[cell[0]].wall_mm), std::abs(map.samples[cell[1]].wall_mm),
                std::abs(map.samples[cell[2]].wall_mm)});
  return distance_floor(nearest, longest);
}

std::optional<CellPair> least_pair(const WallMap& map, const ClosestSurface& there,
                                   const RunContext& run) {
  const double best_sample = sum_of_blocks(
      map.samples.size(), kCellGrain, run, 1e300,
      [&map](std::size_t begin, std::size_t end) {
        double t = 1e300;
        for (std::size_t i = begin; i < end; ++i)
          t = std::min(t, std::abs(map.samples[i].wall_mm));
        return t;
      },
      [](double& least, double part) { least = std::min(least, part); });
  std::vector<std::vector<Candidate>> parts((map.cells.size() + kCellGrain - 1) / kCellGrain);
  for_blocks(map.cells.size(), kCellGrain, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      const double floor = cell_floor(map, map.cells[i]);
      if (floor <= best_sample)
        parts[begin / kCellGrain].push_back({floor, static_cast<std::uint32_t>(i)});
    }
  });
  std::vector<Candidate> candidates;
  for (const std::vector<Candidate>& part : parts)
    candidates.insert(candidates.end(), part.begin(), part.end());
  std::sort(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
    return a.floor != b.floor ? a.floor < b.floor : a.cell < b.cell;
  });
  // The bound only ever passes over cells that hold nothing as thin as the answer, so the answer
  // does not depend on how threads race.
  std::atomic<double> best{best_sample};
  std::vector<std::optional<CellPair>> found((candidates.size() + kBlock - 1) / kBlock);
  for_blocks(candidates.size(), kBlock, run, [&](std::size_t begin, std::size_t end) {
    std::optional<CellPair>& mine = found[begin / kBlock];
    for (std::size_t k = begin; k < end; ++k) {
      const double below = best.load(std::memory_order_relaxed);
      if (candidates[k].floor > below)
        break;
      const std::uint32_t cell = candidates[k].cell;
      const auto pair = there.nearest_to_triangle(corners_of(map, map.cells[cell]), below);
      if (!pair)
        continue;
      if (!mine || pair->distance < mine->pair.distance ||
          (pair->distance == mine->pair.distance && cell < mine->cell))
        mine = CellPair{*pair, cell};
      lower_to(best, pair->distance);
    }
  });
  std::optional<CellPair> least;
  for (const std::optional<CellPair>& f : found)
    if (f && (!least || f->pair.distance < least->pair.distance ||
              (f->pair.distance == least->pair.distance && f->cell < least->cell)))
      least = f;
  return least;
}

std::uint32_t cell_at(const WallMap& map, Vec3 p, const RunContext& run) {
  struct Found {
    double distance2;
    std::uint32_t cell;
  };
  return sum_of_blocks(
             map.cells.size(), kCellGrain, run, Found{1e300, 0},
             [&](std::size_t begin, std::size_t end) {
               Found found{1e300, 0};
               for (std::size_t k = begin; k < end; ++k) {
                 const double d2 =
                     length_squared(p - closest_point(p, corners_of(map, map.cells[k])));
                 if (d2 < found.distance2)
                   found = {d2, static_cast<std::uint32_t>(k)};
               }
               return found;
             },
             [](Found& found, const Found& part) {
               if (part.distance2 < found.distance2)
                 found = part;
             })
      .cell;
}

void add_spots(WallMap& map, const WallProbe& probe, double ceiling_mm, const RunContext& run,
               std::span<const unsigned char> only) {
  // Lowest sample around each sample; equal walls count by number so that a plateau has few lows.
  const std::size_t n = map.samples.size();
  const auto thinner = [&](std::uint32_t a, std::uint32_t b) {
    const double ta = map.samples[a].wall_mm, tb = map.samples[b].wall_mm;
    return ta != tb ? ta < tb : a < b;
  };
  enum : unsigned char { kUsed = 1, kHigher = 2 };
  std::vector<std::atomic<unsigned char>> seen(n);
  for_blocks(map.cells.size(), kCellGrain, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      const Tri& c = map.cells[k];
      for (std::size_t i = 0; i < 3; ++i) {
        const bool higher = thinner(c[(i + 1) % 3], c[i]) || thinner(c[(i + 2) % 3], c[i]);
        const unsigned char now = higher ? kUsed | kHigher : kUsed;
        if (const auto before = seen[c[i]].load(std::memory_order_relaxed);
            (before | now) != before)
          seen[c[i]].fetch_or(now, std::memory_order_relaxed);
      }
    }
  });
  std::vector<std::uint32_t> lows;
  std::vector<std::uint32_t> slot(n, 0xffffffff);
  for (std::size_t i = 0; i < n; ++i)
    if (seen[i] == kUsed && map.samples[i].wall_mm > 0 && map.samples[i].wall_mm < ceiling_mm &&
        (only.empty() || only[i] != 0)) {
      slot[i] = static_cast<std::uint32_t>(lows.size());
      lows.push_back(static_cast<std::uint32_t>(i));
    }
  std::vector<std::vector<std::uint32_t>> rings(lows.size());
  for (std::size_t k = 0; k < map.cells.size(); ++k)
    for (const std::uint32_t v : map.cells[k])
      if (slot[v] != 0xffffffff)
        rings[slot[v]].push_back(static_cast<std::uint32_t>(k));
  std::vector<std::optional<CellPair>> found(lows.size());
  for_blocks(lows.size(), kBlock, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      // A hair under the sample itself, which is already there.
      double below = map.samples[lows[k]].wall_mm - 1e-6;
      for (const std::uint32_t cell : rings[k])
        if (cell_floor(map, map.cells[cell]) < below)
          if (const auto pair =
                  probe.there().nearest_to_triangle(corners_of(map, map.cells[cell]), below);
              pair && (!found[k] || pair->distance < found[k]->pair.distance)) {
            found[k] = CellPair{*pair, cell};
            below = pair->distance;
          }
    }
  });
  for (std::size_t k = 0; k < lows.size(); ++k) {
    if (!found[k] || !(found[k]->pair.distance > 0))
      continue;
    const NearestPair& pair = found[k]->pair;
    const Vec3 out =
        probe.here_is_skin() ? pair.on_first - pair.on_second : pair.on_second - pair.on_first;
    map.spots.push_back({static_cast<std::uint32_t>(map.samples.size()), found[k]->cell});
    map.samples.push_back({pair.on_first, unit(out), pair.distance});
  }
}

namespace {

/// Splits one cell at a time, keeping the deepest point found; see deepest().
class Diver {
 public:
  Diver(const WallProbe& probe, double best) : probe_(probe), best_(best) {}

  struct Corner {
    WallSample sample;
    std::uint32_t nearest;
  };

  void dive(const std::array<Corner, 3>& c, Vec3 normal, int level) {
    if (left_ == 0) {
      settled = false;
      return;
    }
    for (const Corner& corner : c)
      note(corner.sample);
    if (floor_of(c) >= best_ - kDepthTolerance_mm || level > 48)
      return;
    std::size_t i = 0;
    double longest = -1;
    for (std::size_t k = 0; k < 3; ++k) {
      const double l = distance(c[k].sample.at, c[(k + 1) % 3].sample.at);
      if (l > longest) {
        longest = l;
        i = k;
      }
    }
    if (longest < 1e-5 || outside(c, longest))
      return;
    --left_;
    const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
    const Vec3 at = (c[i].sample.at + c[j].sample.at) * 0.5;
    const WallProbe::Reading r = probe_.read(at, normal, c[i].nearest);
    const Corner middle{r.sample, r.triangle};
    dive({c[i], middle, c[k]}, normal, level + 1);
    dive({middle, c[j], c[k]}, normal, level + 1);
  }

  std::optional<WallSample> found;
  bool settled = true;

 private:
  void note(const WallSample& s) {
    if (s.wall_mm < best_ || (!found && s.wall_mm <= best_)) {
      best_ = s.wall_mm;
      found = s;
    }
  }
  /// No corner is in the air and the other surface does not pass through: nothing to find here.
  static bool outside(const std::array<Corner, 3>& c, double longest) {
    const double nearest =
        std::min({c[0].sample.wall_mm, c[1].sample.wall_mm, c[2].sample.wall_mm});
    return nearest > 0 && distance_floor(nearest, longest * longest) > 0;
  }
  /// No point of the cell is deeper than this. In the air the wall is minus the distance to the
  /// other surface, which is at most the distance to any one facet of it, and that is largest at a
  /// corner (the distance to a convex set is convex). Where all corners are in the air the way
  /// walked bounds it too.
  double floor_of(const std::array<Corner, 3>& c) const {
    double floor = -1e300;
    for (const Corner& facet : c) {
      const TriangleCorners t = probe_.there().corners(facet.nearest);
      double far = 0;
      for (const Corner& corner : c)
        far = std::max(far, distance(corner.sample.at, closest_point(corner.sample.at, t)));
      floor = std::max(floor, -far);
    }
    if (c[0].sample.wall_mm < 0 && c[1].sample.wall_mm < 0 && c[2].sample.wall_mm < 0)
      for (std::size_t i = 0; i < 3; ++i) {
        const Vec3 p = c[i].sample.at;
        floor =
            std::max(floor, c[i].sample.wall_mm - std::max(distance(p, c[(i + 1) % 3].sample.at),
                                                           distance(p, c[(i + 2) % 3].sample.at)));
      }
    return floor;
  }

  const WallProbe& probe_;
  double best_;
  std::size_t left_ = 20000;
};

} // namespace

std::optional<Deepest> deepest(const RefinedMap& refined, const WallProbe& probe,
                               const RunContext& run) {
  const WallMap& map = refined.map;
  double best = 0;
  for (const WallSample& s : map.samples)
    best = std::min(best, s.wall_mm);
  // Cells that may hold something deeper: all corners in the air, mixed, or crossed by the other
  // surface (a corner nearer than the cell is wide).
  std::vector<Candidate> candidates;
  for (std::size_t i = 0; i < map.cells.size(); ++i) {
    double low = 1e300;
    for (const std::uint32_t v : map.cells[i])
      low = std::min(low, map.samples[v].wall_mm);
    if (low < 0 || cell_floor(map, map.cells[i]) <= 0)
      candidates.push_back({low, static_cast<std::uint32_t>(i)});
  }
  std::sort(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
    return a.floor != b.floor ? a.floor < b.floor : a.cell < b.cell;
  });
  struct Slot {
    std::optional<WallSample> found;
    bool settled = true;
  };
  // Each block dives from the same start, never from what another thread has found meanwhile.
  std::vector<Slot> slots((candidates.size() + kBlock - 1) / kBlock);
  for_blocks(candidates.size(), kBlock, run, [&](std::size_t begin, std::size_t end) {
    Diver diver(probe, best);
    for (std::size_t k = begin; k < end; ++k) {
      const Tri& cell = map.cells[candidates[k].cell];
      const TriangleCorners t = corners_of(map, cell);
      diver.dive({Diver::Corner{map.samples[cell[0]], refined.nearest[cell[0]]},
                  Diver::Corner{map.samples[cell[1]], refined.nearest[cell[1]]},
                  Diver::Corner{map.samples[cell[2]], refined.nearest[cell[2]]}},
                 cross(t[1] - t[0], t[2] - t[0]), 0);
    }
    slots[begin / kBlock] = {diver.found, diver.settled};
  });
  std::optional<Deepest> result;
  bool settled = true;
  for (const Slot& s : slots) {
    settled = settled && s.settled;
    if (s.found && s.found->wall_mm < 0 && (!result || s.found->wall_mm < result->sample.wall_mm))
      result = Deepest{*s.found, true};
  }
  if (result)
    result->settled = settled;
  return result;
}

} // namespace leastwall
