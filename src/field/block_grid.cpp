#include "field/block_grid.h"

#include "field/touched_voxels.h"

#include <algorithm>
#include <cmath>
#include <unordered_set>

namespace leastwall {
namespace {

constexpr int kShift = 3, kInBlock = 7; // 8 voxels a side
constexpr std::uint64_t kPart = (std::uint64_t{1} << 21) - 1;

std::uint64_t key_of(int bx, int by, int bz) {
  const auto part = [](int b) { return static_cast<std::uint64_t>(b) & kPart; };
  return part(bx) << 42 | part(by) << 21 | part(bz);
}

} // namespace

std::uint64_t BlockGrid::block_of(Voxel v) {
  return key_of(v.x >> kShift, v.y >> kShift, v.z >> kShift);
}

std::size_t BlockGrid::place_of(Voxel v) {
  return static_cast<std::size_t>(((v.x & kInBlock) * kSide + (v.y & kInBlock)) * kSide +
                                  (v.z & kInBlock));
}

BlockGrid::BlockGrid(const VoxelGridInput& input, const RunContext& run)
    : input_(input), outside_(input.band_voxels * input.voxel_mm) {
  for (std::size_t i = 0; i < input.triangles; ++i) {
    TriangleCorners t = input.corners(static_cast<std::uint32_t>(i));
    for (Vec3& v : t)
      v = (v - input.origin) / input.voxel_mm;
    touched_voxels(t, [this](int x, int y, int z) {
      touched_[block_of({x, y, z})].set(place_of({x, y, z}));
    });
    if (i % 65536 == 0)
      run.check();
  }
}

double BlockGrid::at_least(Vec3 p) const {
  const Vec3 q = (p - input_.origin) / input_.voxel_mm;
  if (std::abs(q.x) > 1e9 || std::abs(q.y) > 1e9 || std::abs(q.z) > 1e9)
    return outside_;
  const Voxel v = voxel_of(p);
  const std::optional<float> value = value_at(v);
  if (!value)
    return outside_;
  // The stored value is rounded to single precision.
  const double distance_there = std::abs(static_cast<double>(*value)) * (1 - 1e-7);
  return std::max(0.0, distance_there - distance(p, centre(v)));
}

std::optional<double> BlockGrid::at_voxel(Vec3 p) const {
  const std::optional<float> value = value_at(voxel_of(p));
  return value ? std::optional(static_cast<double>(*value)) : std::nullopt;
}

std::size_t BlockGrid::voxels() const {
  std::size_t count = 0;
  std::unordered_set<std::uint64_t> looked_at;
  const int reach = (input_.band_voxels + kInBlock) >> kShift;
  const auto back = [](std::uint64_t part) { // the sign of 21 bits
    return static_cast<int>(static_cast<std::int64_t>((part & kPart) << 43) >> 43);
  };
  for (const auto& [key, marks] : touched_)
    for (int bx = back(key >> 42) - reach; bx <= back(key >> 42) + reach; ++bx)
      for (int by = back(key >> 21) - reach; by <= back(key >> 21) + reach; ++by)
        for (int bz = back(key) - reach; bz <= back(key) + reach; ++bz) {
          if (!looked_at.insert(key_of(bx, by, bz)).second)
            continue;
          for (int i = 0; i < kSide * kSide * kSide; ++i)
            count += marked_near({bx * kSide + i / (kSide * kSide), by * kSide + i / kSide % kSide,
                                  bz * kSide + i % kSide});
        }
  return count;
}

BlockGrid::Voxel BlockGrid::voxel_of(Vec3 p) const {
  const Vec3 q = (p - input_.origin) / input_.voxel_mm;
  return {static_cast<int>(std::lround(q.x)), static_cast<int>(std::lround(q.y)),
          static_cast<int>(std::lround(q.z))};
}

Vec3 BlockGrid::centre(Voxel v) const {
  return input_.origin +
         Vec3{static_cast<double>(v.x), static_cast<double>(v.y), static_cast<double>(v.z)} *
             input_.voxel_mm;
}

/// In the band: a touched voxel is no more than its width away along each axis.
bool BlockGrid::marked_near(Voxel v) const {
  const int n = input_.band_voxels;
  const Voxel low{v.x - n, v.y - n, v.z - n}, high{v.x + n, v.y + n, v.z + n};
  for (int bx = low.x >> kShift; bx <= high.x >> kShift; ++bx)
    for (int by = low.y >> kShift; by <= high.y >> kShift; ++by)
      for (int bz = low.z >> kShift; bz <= high.z >> kShift; ++bz) {
        const auto found = touched_.find(key_of(bx, by, bz));
        if (found == touched_.end())
          continue;
        for (int x = std::max(low.x, bx * kSide); x <= std::min(high.x, bx * kSide + kInBlock); ++x)
          for (int y = std::max(low.y, by * kSide); y <= std::min(high.y, by * kSide + kInBlock);
               ++y)
            for (int z = std::max(low.z, bz * kSide); z <= std::min(high.z, bz * kSide + kInBlock);
                 ++z)
              if (found->second[place_of({x, y, z})])
                return true;
      }
  return false;
}

std::optional<float> BlockGrid::value_at(Voxel v) const {
  Values& block = values_[block_of(v)];
  const std::size_t place = place_of(v);
  if (!block.known[place]) {
    block.known.set(place);
    if (marked_near(v)) {
      block.in_band.set(place);
      const Vec3 p = centre(v);
      const double d = input_.distance(p, hint_);
      block.value[place] = static_cast<float>(input_.in_air(p) ? -d : d);
    }
  }
  return block.in_band[place] ? std::optional(block.value[place]) : std::nullopt;
}

} // namespace leastwall
