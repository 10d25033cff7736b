#include "wall/surface/slits.h"

#include "mesh/disjoint_sets.h"
#include "space/cube_key.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <optional>
#include <unordered_map>

namespace leastwall {
namespace {

constexpr double kShort_mm = 0.05, kJoined_mm = 0.25;
constexpr double kStraight = 0.985; // cosine of 10 degrees

using Place = std::array<double, 3>;

Place place(Vec3 p) {
  return {p.x, p.y, p.z};
}

bool is_short(const OpenEdge& e) {
  return distance(e.from, e.to) < kShort_mm;
}

/// Whether `next` lengthens `chain`, all but straight and on the same side of its facets.
bool lengthens(const OpenEdge& chain, const OpenEdge& next) {
  return is_short(next) && distance(chain.from, next.to) <= kJoined_mm &&
         dot(unit(chain.to - chain.from), unit(next.to - next.from)) > kStraight &&
         dot(inwards(chain), inwards(next)) > kStraight;
}

} // namespace

std::vector<OpenEdge> join_short(const std::vector<OpenEdge>& edges) {
  constexpr std::uint32_t kNone = 0xffffffff;
  std::map<Place, std::uint32_t> begins; // short edges; kNone: several
  std::map<Place, std::uint32_t> ends;
  for (std::uint32_t i = 0; i < edges.size(); ++i)
    if (is_short(edges[i])) {
      if (const auto [at, fresh] = begins.try_emplace(place(edges[i].from), i); !fresh)
        at->second = kNone;
      if (const auto [at, fresh] = ends.try_emplace(place(edges[i].to), i); !fresh)
        at->second = kNone;
    }
  const auto one = [](const std::map<Place, std::uint32_t>& of, Vec3 p) {
    const auto found = of.find(place(p));
    return found == of.end() ? kNone : found->second;
  };
  std::vector<bool> taken(edges.size(), false);
  std::vector<OpenEdge> out;
  const auto walk = [&](std::uint32_t first) {
    OpenEdge chain = edges[first];
    taken[first] = true;
    for (std::uint32_t next = one(begins, chain.to);
         next != kNone && !taken[next] && one(ends, chain.to) != kNone &&
         lengthens(chain, edges[next]);
         next = one(begins, chain.to)) {
      taken[next] = true;
      chain.to = edges[next].to;
    }
    out.push_back(chain);
  };
  // From the beginnings of chains; then what is left, which runs in a ring.
  for (std::uint32_t i = 0; i < edges.size(); ++i)
    if (!is_short(edges[i]) || one(ends, edges[i].from) == kNone)
      walk(i);
  for (std::uint32_t i = 0; i < edges.size(); ++i)
    for (std::uint32_t at = i; at != kNone && !taken[at];) {
      walk(at);
      at = one(begins, out.back().to);
    }
  return out;
}

std::vector<OpenRun> slits(const std::vector<OpenEdge>& edges, Looks& looks) {
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> cells;
  const auto key = [](Vec3 p, int dx, int dy, int dz) { return cube_key(p, kSlit_mm, dx, dy, dz); };
  const auto parts = [](const OpenEdge& e) {
    return static_cast<std::uint32_t>(distance(e.from, e.to) / kSlit_mm) + 1;
  };
  for (std::uint32_t i = 0; i < edges.size(); ++i)
    for (std::uint32_t k = 0; k <= parts(edges[i]); ++k) {
      std::vector<std::uint32_t>& there = cells[key(
          edges[i].from + (edges[i].to - edges[i].from) * (double(k) / parts(edges[i])), 0, 0, 0)];
      if (there.empty() || there.back() != i)
        there.push_back(i);
    }
  struct Facing {
    Vec3 middle, out;
    double width, length;
  };
  std::vector<Facing> facing;
  constexpr std::size_t kMaxLooked = 1024; // of the edges in a cell
  for (const auto& [cell, there] : cells)
    if (there.size() > kMaxLooked) { // among so many a slit may be missed
      looks.spend();
      return {};
    }
  for (const OpenEdge& e : edges)
    for (std::uint32_t k = 0; k < parts(e); ++k) {
      const Vec3 p = e.from + (e.to - e.from) * ((k + 0.5) / parts(e)), out = -inwards(e);
      std::optional<Facing> nearest;
      for (int dx = -1; dx <= 1; ++dx)
        for (int dy = -1; dy <= 1; ++dy)
          for (int dz = -1; dz <= 1; ++dz) {
            const auto found = cells.find(key(p, dx, dy, dz));
            if (found == cells.end())
              continue;
            for (const std::uint32_t edge : found->second) {
              if (!looks.take())
                return {};
              const OpenEdge& other = edges[edge];
              const Vec3 along = other.to - other.from;
              const double t = std::clamp(dot(p - other.from, along) / dot(along, along), 0.0, 1.0);
              const Vec3 over = other.from + along * t - p;
              const double width = length(over);
              if (width > kSeam_mm && width <= kSlit_mm && (!nearest || width < nearest->width) &&
                  dot(over, out) > 0.9 * width && dot(inwards(other), out) > 0.9)
                nearest = Facing{p + over * 0.5, out, width, distance(e.from, e.to) / parts(e)};
            }
          }
      if (nearest)
        facing.push_back(*nearest);
    }
  // Joined where they follow one another straight on.
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> near;
  DisjointSets joined(facing.size());
  for (std::uint32_t i = 0; i < facing.size(); ++i) {
    const Facing& f = facing[i];
    for (int dx = -1; dx <= 1; ++dx)
      for (int dy = -1; dy <= 1; ++dy)
        for (int dz = -1; dz <= 1; ++dz) {
          const auto found = near.find(key(f.middle, dx, dy, dz));
          if (found == near.end())
            continue;
          for (const std::uint32_t other : found->second) {
            if (!looks.take())
              return {};
            const Facing& g = facing[other];
            if (std::abs(dot(f.out, g.out)) > 0.9 &&
                distance(f.middle, g.middle) <= 1.5 * std::max(f.length, g.length))
              joined.join(i, other);
          }
        }
    near[key(f.middle, 0, 0, 0)].push_back(i);
  }
  std::vector<OpenRun> runs;
  std::vector<double> lengths;
  std::unordered_map<std::uint32_t, std::size_t> run_of;
  for (std::uint32_t i = 0; i < facing.size(); ++i) {
    const auto [at, fresh] = run_of.try_emplace(joined.find(i), runs.size());
    if (fresh) {
      runs.emplace_back();
      lengths.push_back(0);
    }
    OpenRun& run = runs[at->second];
    run.box.add(facing[i].middle);
    run.edges.push_back(facing[i].middle);
    run.across_mm = std::max(run.across_mm, facing[i].width);
    lengths[at->second] += 0.5 * facing[i].length; // from both sides
  }
  std::vector<OpenRun> out;
  for (std::size_t r = 0; r < runs.size(); ++r)
    if (lengths[r] >= 4 * runs[r].across_mm)
      out.push_back(std::move(runs[r]));
  return out;
}

} // namespace leastwall
