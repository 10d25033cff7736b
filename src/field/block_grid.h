// Exact distances on a sparse grid of blocks, each computed when it is first asked for: what stands
// in for OpenVDB's tree where there is none, and gives the same answers.
#pragma once

#include "field/voxel_grid.h"

#include <array>
#include <bitset>
#include <cstdint>
#include <unordered_map>

namespace leastwall {

/// For one thread. Keeps `input`, whose functions must stay good as long as the grid.
class BlockGrid : public VoxelGrid {
 public:
  /// Throws Cancelled.
  BlockGrid(const VoxelGridInput& input, const RunContext& run);

  double at_least(Vec3 p) const override;
  std::optional<double> at_voxel(Vec3 p) const override;
  std::size_t voxels() const override;

 private:
  static constexpr int kSide = 8;
  struct Voxel {
    int x, y, z;
  };
  using Marks = std::bitset<kSide * kSide * kSide>;
  struct Values {
    Marks known, in_band;
    std::array<float, kSide * kSide * kSide> value;
  };

  static std::uint64_t block_of(Voxel v);
  static std::size_t place_of(Voxel v);
  Voxel voxel_of(Vec3 p) const;
  Vec3 centre(Voxel v) const;
  bool marked_near(Voxel v) const;
  std::optional<float> value_at(Voxel v) const;

  VoxelGridInput input_;
  double outside_; ///< certain distance of anything outside the band
  std::unordered_map<std::uint64_t, Marks> touched_;
  mutable std::unordered_map<std::uint64_t, Values> values_;
  mutable std::optional<std::uint32_t> hint_;
};

} // namespace leastwall
