#include "wall/sampling/new_pairs.h"

#include "base/parallel.h"
#include "space/cube_key.h"

#include <algorithm>
#include <cmath>
#include <compare>

namespace leastwall {
namespace {

constexpr std::size_t kGrain = 1 << 14, kBlock = 8;
constexpr std::size_t kMaxAsked = 512; // of each kind, in a cube

/// Samples by cube, in a cube by wall.
struct Place {
  std::uint64_t cube;
  double wall_mm;
  std::uint32_t sample;
  auto operator<=>(const Place&) const = default;
};

using Places = std::vector<Place>;

template <class Wanted>
Places places_of(std::span<const WallSample> samples, double cube_mm, const RunContext& run,
                 const Wanted& wanted) {
  std::vector<Places> parts((samples.size() + kGrain - 1) / kGrain);
  for_blocks(samples.size(), kGrain, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i)
      if (const std::uint64_t cube = cube_key(samples[i].at, cube_mm); wanted(samples[i], cube))
        parts[begin / kGrain].push_back({cube, samples[i].wall_mm, static_cast<std::uint32_t>(i)});
  });
  Places all;
  for (const Places& part : parts)
    all.insert(all.end(), part.begin(), part.end());
  sort_in_parallel(all.begin(), all.end());
  return all;
}

} // namespace

std::vector<std::uint32_t> new_pairs(std::span<const WallSample> known,
                                     std::span<const WallSample> pairs, double cube_mm,
                                     const PairSlack& slack, const RunContext& run) {
  const Places asking =
      places_of(pairs, cube_mm, run, [](const WallSample&, std::uint64_t) { return true; });
  struct Cube {
    std::uint64_t cube;
    std::size_t begin, end;
    double thickest_mm;
  };
  std::vector<Cube> cubes;
  for (std::size_t i = 0; i < asking.size(); ++i) {
    if (cubes.empty() || cubes.back().cube != asking[i].cube)
      cubes.push_back({asking[i].cube, i, i, 0});
    cubes.back().end = i + 1;
    cubes.back().thickest_mm = asking[i].wall_mm;
  }
  const auto cube_at = [&](std::uint64_t cube) {
    const auto at = std::ranges::lower_bound(cubes, cube, {}, &Cube::cube);
    return at != cubes.end() && at->cube == cube ? &*at : nullptr;
  };
  const Places standing =
      places_of(known, cube_mm, run, [&](const WallSample& s, std::uint64_t cube) {
        const Cube* c = cube_at(cube);
        return c != nullptr && s.wall_mm <= c->thickest_mm + slack.wall_mm;
      });
  std::vector<std::vector<std::uint32_t>> kept(cubes.size());
  for_blocks(cubes.size(), kBlock, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      const auto first = std::ranges::lower_bound(standing, cubes[k].cube, {}, &Place::cube);
      const auto last = std::ranges::upper_bound(standing, cubes[k].cube, {}, &Place::cube);
      const auto count = static_cast<std::size_t>(last - first);
      const std::size_t step = std::max<std::size_t>(1, (count + kMaxAsked - 1) / kMaxAsked);
      std::vector<std::uint32_t>& mine = kept[k];
      for (std::size_t i = cubes[k].begin; i < cubes[k].end; ++i) {
        const WallSample& q = pairs[asking[i].sample];
        bool told = false;
        for (std::size_t j = 0; j < count && !told; j += step) {
          const WallSample& s = known[(first + static_cast<std::ptrdiff_t>(j))->sample];
          if (s.wall_mm > q.wall_mm + slack.wall_mm)
            break;
          told = stands_for(s.wall_mm, s.n, q, slack);
        }
        for (std::size_t j = 0; j < std::min(mine.size(), kMaxAsked) && !told; ++j)
          told = stands_for(pairs[mine[j]].wall_mm, pairs[mine[j]].n, q, slack);
        if (!told)
          mine.push_back(asking[i].sample);
      }
    }
  });
  std::vector<std::uint32_t> all;
  for (const std::vector<std::uint32_t>& mine : kept)
    all.insert(all.end(), mine.begin(), mine.end());
  std::ranges::sort(all);
  return all;
}

} // namespace leastwall
