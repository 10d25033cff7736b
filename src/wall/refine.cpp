#include "wall/refine.h"

#include "base/parallel.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

constexpr std::size_t kBlock = 512;
constexpr std::uint32_t kNone = 0xffffffff;

/// Position along a space-filling order, so that neighbours in a block are neighbours in space.
std::uint64_t morton(Vec3 p, const Box& box) {
  const Vec3 size = box.size();
  const auto spread = [](double v) {
    auto x = static_cast<std::uint64_t>(std::clamp(v, 0.0, 1.0) * 2097151.0);
    x = (x | x << 32) & 0x1f00000000ffffULL;
    x = (x | x << 16) & 0x1f0000ff0000ffULL;
    x = (x | x << 8) & 0x100f00f00f00f00fULL;
    x = (x | x << 4) & 0x10c30c30c30c30c3ULL;
    x = (x | x << 2) & 0x1249249249249249ULL;
    return x;
  };
  return spread((p.x - box.low.x) / std::max(size.x, 1e-9)) |
         spread((p.y - box.low.y) / std::max(size.y, 1e-9)) << 1 |
         spread((p.z - box.low.z) / std::max(size.z, 1e-9)) << 2;
}

std::uint64_t key_of(std::uint32_t a, std::uint32_t b) {
  return (std::uint64_t{std::min(a, b)} << 32) | std::max(a, b);
}

class Refiner {
 public:
  Refiner(const TriMesh& surface, const WallProbe& probe, const RefineOptions& options,
          const RunContext& run)
      : probe_(probe), options_(options), run_(run) {
    cells_ = surface.triangles;
    normals_.assign(surface.vertices.size(), Vec3{});
    for (const Tri& t : cells_) {
      const Vec3 a = surface.vertices[t[0]];
      const Vec3 n = cross(surface.vertices[t[1]] - a, surface.vertices[t[2]] - a);
      for (const std::uint32_t v : t)
        normals_[v] += n;
    }
    out_.map.samples.resize(surface.vertices.size());
    out_.nearest.assign(surface.vertices.size(), kNone);
    for (std::size_t i = 0; i < surface.vertices.size(); ++i)
      out_.map.samples[i].at = surface.vertices[i];
    measure_corners(surface.box());
  }

  RefinedMap take() {
    while (split_once())
      run_.check();
    out_.map.cells = std::move(cells_);
    return std::move(out_);
  }

 private:
  void measure_corners(const Box& box) {
    std::vector<WallSample>& samples = out_.map.samples;
    std::vector<std::pair<std::uint64_t, std::uint32_t>> order(samples.size());
    for_blocks(order.size(), 1 << 16, run_, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i)
        order[i] = {morton(samples[i].at, box), static_cast<std::uint32_t>(i)};
    });
    std::sort(order.begin(), order.end());
    for_blocks(order.size(), kBlock, run_, [&](std::size_t begin, std::size_t end) {
      std::optional<std::uint32_t> hint;
      const WallSample* beside = nullptr;
      for (std::size_t k = begin; k < end; ++k) {
        const std::uint32_t i = order[k].second;
        const WallProbe::Reading r = probe_.read(samples[i].at, normals_[i], hint, beside);
        samples[i] = r.sample;
        out_.nearest[i] = r.triangle;
        hint = r.triangle;
        beside = &samples[i];
      }
    });
  }

  bool split_wanted(std::uint32_t a, std::uint32_t b) const {
    const WallSample &p = out_.map.samples[a], &q = out_.map.samples[b];
    const double l2 = length_squared(p.at - q.at);
    if (l2 > options_.coarse_spacing_mm * options_.coarse_spacing_mm)
      return true;
    if (l2 <= options_.fine_spacing_mm * options_.fine_spacing_mm)
      return false;
    const double nearest = std::min(p.wall_mm, q.wall_mm);
    // A triangle's longest edge is at most twice the longer of the two that meet in its thinnest
    // corner, so asking each edge for twice its own length clears the whole triangle.
    return nearest < 0 || distance_floor(nearest, 4 * l2) < options_.ceiling_mm;
  }

  /// One round: splits every edge that asks for it. False when none did.
  bool split_once() {
    // Edges worth splitting, once each, in a fixed order.
    std::vector<std::uint64_t> wanted;
    for (const Tri& t : cells_)
      for (std::size_t i = 0; i < 3; ++i)
        if (split_wanted(t[i], t[(i + 1) % 3]))
          wanted.push_back(key_of(t[i], t[(i + 1) % 3]));
    if (wanted.empty())
      return false;
    std::sort(wanted.begin(), wanted.end());
    wanted.erase(std::unique(wanted.begin(), wanted.end()), wanted.end());
    const auto first = static_cast<std::uint32_t>(out_.map.samples.size());
    const std::size_t total = first + wanted.size();
    if (total > 0xfffffff0u)
      throw RunError("too many samples; use a larger sample spacing");
    out_.map.samples.resize(total);
    out_.nearest.resize(total);
    normals_.resize(total);
    for_blocks(wanted.size(), kBlock, run_, [&](std::size_t begin, std::size_t end) {
      for (std::size_t k = begin; k < end; ++k) {
        const auto a = static_cast<std::uint32_t>(wanted[k] >> 32);
        const auto b = static_cast<std::uint32_t>(wanted[k]);
        const std::size_t i = first + k;
        normals_[i] = normals_[a] + normals_[b];
        const Vec3 middle = (out_.map.samples[a].at + out_.map.samples[b].at) * 0.5;
        const WallProbe::Reading r =
            probe_.read(middle, normals_[i], out_.nearest[a], &out_.map.samples[a]);
        out_.map.samples[i] = r.sample;
        out_.nearest[i] = r.triangle;
      }
    });
    const auto middle_of = [&](std::uint32_t a, std::uint32_t b) {
      const std::uint64_t key = key_of(a, b);
      const auto it = std::lower_bound(wanted.begin(), wanted.end(), key);
      return it != wanted.end() && *it == key
                 ? first + static_cast<std::uint32_t>(it - wanted.begin())
                 : kNone;
    };
    std::vector<Tri> next;
    next.reserve(cells_.size() + 2 * wanted.size());
    for (const Tri& t : cells_) {
      const bool any =
          split_wanted(t[0], t[1]) || split_wanted(t[1], t[2]) || split_wanted(t[2], t[0]);
      if (!any)
        next.push_back(t);
      else
        divide(t, {middle_of(t[0], t[1]), middle_of(t[1], t[2]), middle_of(t[2], t[0])}, next);
    }
    cells_ = std::move(next);
    return true;
  }

  /// Cell t with middles m[i] of edge i -> i+1 (kNone: not split). Shorter diagonals are preferred.
  void divide(const Tri& t, const Tri& m, std::vector<Tri>& next) const {
    const int count = (m[0] != kNone) + (m[1] != kNone) + (m[2] != kNone);
    if (count == 3) {
      next.push_back({t[0], m[0], m[2]});
      next.push_back({m[0], t[1], m[1]});
      next.push_back({m[2], m[1], t[2]});
      next.push_back({m[0], m[1], m[2]});
      return;
    }
    for (std::size_t i = 0; i < 3; ++i) {
      const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
      if (count == 1 && m[i] != kNone) {
        next.push_back({t[i], m[i], t[k]});
        next.push_back({m[i], t[j], t[k]});
        return;
      }
      if (count == 2 && m[i] == kNone) { // edges j and k are split; corner k sits between them
        next.push_back({m[k], m[j], t[k]});
        const auto& s = out_.map.samples;
        if (distance(s[t[i]].at, s[m[j]].at) <= distance(s[t[j]].at, s[m[k]].at)) {
          next.push_back({t[i], t[j], m[j]});
          next.push_back({t[i], m[j], m[k]});
        } else {
          next.push_back({t[i], t[j], m[k]});
          next.push_back({t[j], m[j], m[k]});
        }
        return;
      }
    }
  }

  const WallProbe& probe_;
  const RefineOptions& options_;
  const RunContext& run_;
  std::vector<Tri> cells_;
  std::vector<Vec3> normals_;
  RefinedMap out_;
};

} // namespace

double distance_floor(double nearest_mm, double longest2) {
  return std::sqrt(std::max(0.0, nearest_mm * nearest_mm - longest2 / 3));
}

RefinedMap refine(const TriMesh& surface, const WallProbe& probe, const RefineOptions& options,
                  const RunContext& run) {
  return Refiner(surface, probe, options, run).take();
}

} // namespace leastwall
