#include "wall/least/least_wall.h"

#include "base/parallel.h"
#include "base/sum_of_blocks.h"
#include "base/work_count.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numeric>

namespace leastwall {
namespace {

constexpr std::size_t kBlock = 64;
constexpr std::size_t kCellGrain = 1 << 14;

TriangleCorners corners_of(const WallMap& map, const Tri& cell) {
  return {map.samples[cell[0]].at, map.samples[cell[1]].at, map.samples[cell[2]].at};
}

double longest_edge2(const TriangleCorners& t) {
  return std::max(
      {length_squared(t[0] - t[1]), length_squared(t[1] - t[2]), length_squared(t[2] - t[0])});
}

constexpr double kHair_mm = 1e-10;

/// What a pair must be under to be less than one as thick as `wall_mm` by more than rounding: over
/// a plateau, where all are alike, none is looked at twice. Never under half of it, so that
/// surfaces that touch are found.
double less_than(double wall_mm) {
  return std::max(wall_mm - kHair_mm, wall_mm / 2);
}

struct Candidate {
  double floor;
  std::uint32_t cell;
};

} // namespace

double cell_floor(const WallMap& map, const Tri& cell) {
  const double nearest =
      std::min({std::abs(map.samples[cell[0]].wall_mm), std::abs(map.samples[cell[1]].wall_mm),
                std::abs(map.samples[cell[2]].wall_mm)});
  return distance_floor(nearest, longest_edge2(corners_of(map, cell)));
}

LeastPair least_pair(const WallMap& map, const ClosestSurface& there, std::uint64_t max_steps,
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
  // In rounds, each against the best of the rounds before, so that what is asked does not depend on
  // how threads race; the first ones are short, for they bring the best down.
  LeastPair out;
  double best = best_sample;
  StepCount steps;
  std::size_t size = 16;
  for (std::size_t from = 0; from < candidates.size() && candidates[from].floor <= best;) {
    if (steps.total() >= max_steps) {
      out.floor_mm = std::min(candidates[from].floor, best);
      break;
    }
    // No round is likely to take more than a quarter of what is left.
    if (out.cells_asked > 0)
      size = std::clamp<std::size_t>((max_steps - steps.total()) / 4 /
                                         (steps.total() / out.cells_asked + 1),
                                     16, std::min<std::size_t>(2 * size, 1 << 16));
    const std::size_t count = std::min(size, candidates.size() - from);
    std::vector<std::optional<CellPair>> found((count + kBlock - 1) / kBlock);
    for_blocks(count, kBlock, run, [&](std::size_t begin, std::size_t end) {
      const StepCount::Span span(steps);
      std::optional<CellPair>& mine = found[begin / kBlock];
      double below = best;
      for (std::size_t k = from + begin; k < from + end && candidates[k].floor <= below; ++k) {
        const std::uint32_t cell = candidates[k].cell;
        const auto pair =
            there.nearest_to_triangle(corners_of(map, map.cells[cell]), less_than(below));
        if (!pair)
          continue;
        if (!mine || pair->distance < mine->pair.distance ||
            (pair->distance == mine->pair.distance && cell < mine->cell))
          mine = CellPair{*pair, cell};
        below = std::min(below, pair->distance);
      }
    });
    for (const std::optional<CellPair>& f : found)
      if (f && (!out.pair || f->pair.distance < out.pair->pair.distance ||
                (f->pair.distance == out.pair->pair.distance && f->cell < out.pair->cell)))
        out.pair = f;
    if (out.pair)
      best = std::min(best, out.pair->pair.distance);
    from += count;
    out.cells_asked += count;
  }
  if (!out.pair && !map.samples.empty()) {
    // Ended before any pair was found: the thinnest sample is one.
    const auto thinnest = static_cast<std::uint32_t>(
        std::ranges::min_element(map.samples, {},
                                 [](const WallSample& s) { return std::abs(s.wall_mm); }) -
        map.samples.begin());
    const SurfaceHit hit = there.nearest(map.samples[thinnest].at);
    const auto cell = std::ranges::find_if(map.cells, [thinnest](const Tri& c) {
      return c[0] == thinnest || c[1] == thinnest || c[2] == thinnest;
    });
    if (cell != map.cells.end())
      out.pair = CellPair{{map.samples[thinnest].at, hit.point, hit.distance},
                          static_cast<std::uint32_t>(cell - map.cells.begin())};
  }
  out.steps = steps.total();
  return out;
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

MinimaAdded add_minima(WallMap& map, const WallProbe& probe, double ceiling_mm,
                       std::uint64_t max_steps, const RunContext& run,
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
  std::vector<std::vector<std::uint32_t>> incident_cells(lows.size());
  for (std::size_t k = 0; k < map.cells.size(); ++k)
    for (const std::uint32_t v : map.cells[k])
      if (slot[v] != 0xffffffff)
        incident_cells[slot[v]].push_back(static_cast<std::uint32_t>(k));
  std::vector<std::optional<CellPair>> found(lows.size());
  std::vector<double> unasked2(lows.size(), 0);
  StepCount steps;
  const std::uint64_t most_of_one = max_steps / 8; // a corner may be that of any number of cells
  const auto look_around = [&](std::size_t k) {
    const std::uint64_t before = steps_of_thread;
    // A hair under the sample itself, which is already there.
    double below = map.samples[lows[k]].wall_mm - 1e-6;
    for (const std::uint32_t cell : incident_cells[k]) {
      if (!(cell_floor(map, map.cells[cell]) < below))
        continue;
      const TriangleCorners t = corners_of(map, map.cells[cell]);
      if (steps_of_thread - before > most_of_one) {
        unasked2[k] = std::max(unasked2[k], longest_edge2(t));
        continue;
      }
      const auto pair = probe.there().nearest_to_triangle(t, below);
      if (pair && (!found[k] || pair->distance < found[k]->pair.distance)) {
        found[k] = CellPair{*pair, cell};
        below = pair->distance;
      }
    }
  };
  // In rounds, so that where it ends does not depend on how threads race.
  std::size_t done = 0;
  for (std::size_t size = 16; done < lows.size() && steps.total() < max_steps; size *= 2) {
    const std::size_t count = std::min({size, std::size_t{1} << 16, lows.size() - done});
    for_blocks(count, std::clamp<std::size_t>(count / 16, 1, kBlock), run,
               [&](std::size_t begin, std::size_t end) {
                 const StepCount::Span span(steps);
                 for (std::size_t k = done + begin; k < done + end; ++k)
                   look_around(k);
               });
    done += count;
  }
  for (std::size_t k = done; k < lows.size(); ++k)
    for (const std::uint32_t cell : incident_cells[k])
      unasked2[k] = std::max(unasked2[k], longest_edge2(corners_of(map, map.cells[cell])));
  for (std::size_t k = 0; k < lows.size(); ++k) {
    if (!found[k] || !(found[k]->pair.distance > 0))
      continue;
    const NearestPair& pair = found[k]->pair;
    const Vec3 out =
        probe.here_is_skin() ? pair.on_first - pair.on_second : pair.on_second - pair.on_first;
    map.minima.push_back({static_cast<std::uint32_t>(map.samples.size()), found[k]->cell});
    map.samples.push_back({pair.on_first, unit(out), pair.distance});
  }
  MinimaAdded added{steps.total(), 0};
  for (const double d2 : unasked2)
    added.unasked_mm = std::max(added.unasked_mm, std::sqrt(d2));
  return added;
}

} // namespace leastwall
