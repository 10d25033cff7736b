#include "report/page/page_samples.h"

#include "base/errors.h"
#include "base/maths/exp_log.h"
#include "base/parallel.h"
#include "report/draw/cells_with_minima.h"
#include "space/cube_key.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <unordered_map>
#include <utility>

namespace leastwall {
namespace {

constexpr double kClose_mm = 0.0005;
constexpr double kLoosest_mm = 1;
constexpr int kSteps = 6;
constexpr double kStep = 1.3; // from one size of the cubes to the next
constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();

class Thinning {
 public:
  Thinning(const WallMap& skin, std::span<const double> worst, const PageCauses& causes,
           const PageSamplesOptions& options)
      : skin_(skin), causes_(causes), options_(options), cells_(cells_with_minima(skin)),
        thin_(skin.samples.size(), 0), always_(skin.samples.size(), 0) {
    for (const Tri& c : cells_)
      if (std::min({worst[c[0]], worst[c[1]], worst[c[2]]}) < options.thin_mm)
        for (const std::uint32_t s : c)
          thin_[s] = 1;
    // No setting brings a sample with `low` above this under the thinnest.
    least_high_ = std::numeric_limits<double>::infinity();
    for (std::uint32_t i = 0; i < skin.samples.size(); ++i)
      least_high_ = std::min(least_high_, skin.samples[i].wall_mm + move(i, causes.reach_shift));
  }

  /// Finds the samples that are thinnest at one setting or another.
  void keep_thinnest(const RunContext& run) {
    for (const std::uint32_t i : options_.always)
      always_[i] = 1;
    std::vector<std::uint32_t> thinnest(kPageSettings, 0);
    for_blocks(kPageSettings, 1, run, [&](std::size_t begin, std::size_t end) {
      for (std::size_t s = begin; s < end; ++s)
        thinnest[s] = thinnest_at(s);
    });
    for (const std::uint32_t i : thinnest)
      always_[i] = 1;
  }

  double area() const {
    double sum = 0;
    for (const Tri& c : cells_) {
      const Vec3 p = skin_.samples[c[0]].at;
      sum += 0.5 * length(cross(skin_.samples[c[1]].at - p, skin_.samples[c[2]].at - p));
    }
    return sum;
  }

  std::size_t bytes(std::size_t samples, std::size_t cells) const {
    return samples * options_.bytes_per_sample + cells * options_.bytes_per_cell;
  }
  bool fits_all() const { return bytes(skin_.samples.size(), cells_.size()) <= options_.max_bytes; }

  bool fits(const PageSamples& samples) const {
    return bytes(samples.kept.size(), samples.cells.size()) <= options_.max_bytes;
  }
  bool fits_thin() const {
    const auto thin = static_cast<std::size_t>(std::count(thin_.begin(), thin_.end(), 1));
    return bytes(thin, 2 * thin) <= options_.max_bytes;
  }

  PageSamples everything() const {
    PageSamples out;
    out.kept.resize(skin_.samples.size());
    std::iota(out.kept.begin(), out.kept.end(), 0u);
    out.cells = cells_;
    return out;
  }

  /// Cubes of `cube` mm.
  PageSamples merged(double cube, double within, bool keep_thin) const {
    const auto n = static_cast<std::uint32_t>(skin_.samples.size());
    std::vector<std::uint32_t> leader(n);
    std::unordered_map<std::uint64_t, std::uint32_t> thinnest;
    // Nothing joins a thin sample that is kept: cells drawn to it would count as thin area.
    const auto kept_thin = [&](std::uint32_t i) { return keep_thin && thin_[i] != 0; };
    for (std::uint32_t i = 0; i < n; ++i) {
      if (kept_thin(i))
        continue;
      const auto [place, fresh] = thinnest.try_emplace(cube_key(skin_.samples[i].at, cube), i);
      if (!fresh && skin_.samples[i].wall_mm < skin_.samples[place->second].wall_mm)
        place->second = i;
    }
    for (std::uint32_t i = 0; i < n; ++i) {
      leader[i] = i;
      if (always_[i] != 0 || kept_thin(i))
        continue;
      const std::uint32_t to = thinnest.at(cube_key(skin_.samples[i].at, cube));
      if (stands_for(to, i, within) || idle(i))
        leader[i] = to;
    }
    PageSamples out;
    out.within_mm = within;
    out.thin_merged = !keep_thin;
    std::vector<std::uint32_t> number(n, kNone);
    for (std::uint32_t i = 0; i < n; ++i)
      if (leader[i] == i) {
        number[i] = static_cast<std::uint32_t>(out.kept.size());
        out.kept.push_back(i);
      }
    for (const Tri& c : cells_) {
      const Tri m{number[leader[c[0]]], number[leader[c[1]]], number[leader[c[2]]]};
      if (m[0] != m[1] && m[1] != m[2] && m[2] != m[0])
        out.cells.push_back(m);
    }
    return out;
  }

 private:
  /// Known shifts anywhere in their reach and limits from none to all, by a fixed pattern: the
  /// fraction of s times a root that differs from column to column.
  std::uint32_t thinnest_at(std::size_t setting) const {
    const std::size_t g = causes_.columns;
    std::vector<double> shift(g), limit(g);
    for (std::size_t j = 0; j < g; ++j) {
      const auto place = [&](double seed) {
        const double f =
            static_cast<double>(setting) * std::sqrt(seed + 2.0 * static_cast<double>(j));
        return f - std::floor(f);
      };
      shift[j] = (2 * place(2.3) - 1) * causes_.reach_shift[j];
      limit[j] = place(3.7) * std::max(0.0, causes_.reach_all[j] - causes_.reach_shift[j]);
    }
    std::uint32_t best = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::uint32_t i = 0; i < skin_.samples.size(); ++i) {
      const float* c = causes_.values.data() + i * g;
      double wall = skin_.samples[i].wall_mm;
      for (std::size_t j = 0; j < g; ++j) {
        const double sensitivity = static_cast<double>(c[j]);
        wall += sensitivity * shift[j] - std::abs(sensitivity) * limit[j];
      }
      if (wall < least) {
        least = wall;
        best = i;
      }
    }
    return best;
  }
  double move(std::uint32_t i, const std::vector<double>& reach) const {
    const float* c = causes_.values.data() + i * causes_.columns;
    double sum = 0;
    for (std::size_t j = 0; j < causes_.columns; ++j)
      sum += std::abs(static_cast<double>(c[j])) * reach[j];
    return sum;
  }
  bool idle(std::uint32_t i) const {
    return skin_.samples[i].wall_mm - move(i, causes_.reach_all) > least_high_;
  }
  bool stands_for(std::uint32_t leader, std::uint32_t i, double within) const {
    const float* a = causes_.values.data() + leader * causes_.columns;
    const float* b = causes_.values.data() + i * causes_.columns;
    double apart = 0;
    for (std::size_t j = 0; j < causes_.columns; ++j)
      apart +=
          std::abs(static_cast<double>(a[j]) - static_cast<double>(b[j])) * causes_.reach_all[j];
    apart += local_apart(causes_.shares_of(leader), causes_.shares_of(i));
    return skin_.samples[i].wall_mm - skin_.samples[leader].wall_mm + within >= apart;
  }
  /// What errors that act on one of two samples only, or differently, can put between them.
  double local_apart(std::span<const ErrorShare> a, std::span<const ErrorShare> b) const {
    double sum = 0;
    while (!a.empty() || !b.empty()) {
      const bool from_a = !a.empty() && (b.empty() || a[0].error <= b[0].error);
      const bool from_b = !b.empty() && (a.empty() || b[0].error <= a[0].error);
      const double c = (from_a ? a[0].c : 0.0) - (from_b ? b[0].c : 0.0);
      sum += std::abs(c) * causes_.local[from_a ? a[0].error : b[0].error].reach;
      a = a.subspan(from_a ? 1 : 0);
      b = b.subspan(from_b ? 1 : 0);
    }
    return sum;
  }
  const WallMap& skin_;
  const PageCauses& causes_;
  const PageSamplesOptions& options_;
  std::vector<Tri> cells_;
  std::vector<unsigned char> thin_, always_;
  double least_high_ = 0;
};

} // namespace

PageSamples page_samples(const WallMap& skin, std::span<const double> worst_mm,
                         const PageCauses& causes, const PageSamplesOptions& options,
                         const RunContext& run) {
  Thinning thinning(skin, worst_mm, causes, options);
  if (thinning.fits_all())
    return thinning.everything();
  thinning.keep_thinnest(run);
  const double room = static_cast<double>(options.max_bytes) /
                      static_cast<double>(options.bytes_per_sample + 2 * options.bytes_per_cell);
  const double first = std::sqrt(thinning.area() / room);
  // Every thin sample and larger and larger cubes elsewhere; then the thin cells join in; last the
  // promise is loosened.
  if (thinning.fits_thin())
    for (int i = 0; i < kSteps; ++i) {
      run.check();
      PageSamples out = thinning.merged(first * maths::whole_power(kStep, i), kClose_mm, true);
      if (thinning.fits(out))
        return out;
    }
  if (options.strict)
    return {};
  const auto kept_within = [&](double within) -> std::optional<PageSamples> {
    for (int i = 0; i < kSteps; ++i) {
      run.check();
      PageSamples out = thinning.merged(first * maths::whole_power(kStep, i), within, false);
      if (thinning.fits(out))
        return out;
    }
    return std::nullopt;
  };
  for (double within = kClose_mm; within < kLoosest_mm; within *= 2)
    if (std::optional<PageSamples> out = kept_within(within)) {
      // As close as there is room for, to a fifth.
      double low = within / 2, high = within;
      for (int halving = 0; halving < 2 && within > kClose_mm; ++halving) {
        const double between = std::sqrt(low * high);
        if (std::optional<PageSamples> closer = kept_within(between)) {
          out = std::move(closer);
          high = between;
        } else {
          low = between;
        }
      }
      return *std::move(out);
    }
  throw RunError("page: the piece has more thin samples than one page can hold; use the pictures "
                 "and the JSON, or a coarser mesh");
}

} // namespace leastwall
