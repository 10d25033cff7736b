// Exact welding of points as they arrive: equal coordinates, equal index.
#pragma once

#include "space/vec3.h"

#include <bit>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace leastwall {

/// Gives each different point an index, counted from 0 in the order of first use. -0 equals +0 and
/// is stored as +0. No tolerance: the two faces of a thin wall never stick together. Points must be
/// finite, and fewer than 2^32 - 1.
class VertexWelder {
 public:
  /// Room for about `points` different points before the table grows.
  explicit VertexWelder(std::size_t points = 0) {
    std::size_t slots = 1024;
    while (slots < points * 2)
      slots *= 2;
    slots_.assign(slots, Slot{});
    points_.reserve(points);
  }

  std::uint32_t add(Vec3 p) { return add(ready(p)); }

  /// A point and where the table will look for it.
  struct Ready {
    Vec3 at;
    std::uint64_t hash = 0;
  };
  /// Asks for the memory that `add` will need: worth it for some points ahead of their turn.
  Ready ready(Vec3 p) const {
    p = {p.x + 0.0, p.y + 0.0, p.z + 0.0}; // -0 + 0 is +0
    const std::uint64_t h = hash(p);
    __builtin_prefetch(&slots_[h & (slots_.size() - 1)]);
    return {p, h};
  }

  std::uint32_t add(const Ready& ready) {
    const auto [p, h] = ready;
    const auto tag = static_cast<std::uint32_t>(h >> 32);
    for (std::size_t i = h & (slots_.size() - 1);; i = (i + 1) & (slots_.size() - 1)) {
      Slot& slot = slots_[i];
      if (slot.index == kFree) {
        slot = {static_cast<std::uint32_t>(points_.size()), tag};
        points_.push_back(p);
        const std::uint32_t index = slot.index;
        if (points_.size() * 3 > slots_.size() * 2)
          grow();
        return index;
      }
      if (slot.tag == tag && points_[slot.index] == p)
        return slot.index;
    }
  }

  const std::vector<Vec3>& points() const { return points_; }
  /// Hands the points over; the welder must not be used afterwards.
  std::vector<Vec3> take_points() {
    slots_ = {};
    return std::move(points_);
  }

 private:
  static constexpr std::uint32_t kFree = 0xffffffffu;
  struct Slot { // eight bytes: never across two lines of the cache
    std::uint32_t index = kFree, tag = 0;
  };

  static std::uint64_t hash(Vec3 p) {
    std::uint64_t h = std::bit_cast<std::uint64_t>(p.x) * 0x9e3779b97f4a7c15u;
    h = ((h ^ (h >> 32)) + std::bit_cast<std::uint64_t>(p.y)) * 0xc2b2ae3d27d4eb4fu;
    h = ((h ^ (h >> 29)) + std::bit_cast<std::uint64_t>(p.z)) * 0x165667b19e3779f9u;
    h = (h ^ (h >> 32)) * 0x9e3779b97f4a7c15u;
    return h ^ (h >> 29);
  }

  void grow() {
    slots_.assign(slots_.size() * 2, Slot{});
    for (std::uint32_t index = 0; index < points_.size(); ++index) {
      const std::uint64_t h = hash(points_[index]);
      std::size_t i = h & (slots_.size() - 1);
      while (slots_[i].index != kFree)
        i = (i + 1) & (slots_.size() - 1);
      slots_[i] = {index, static_cast<std::uint32_t>(h >> 32)};
    }
  }

  std::vector<Slot> slots_; // size is a power of two
  std::vector<Vec3> points_;
};

} // namespace leastwall
