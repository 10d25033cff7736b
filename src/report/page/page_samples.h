// Which samples go into the page when there is no room for all.
#pragma once

#include "base/run_context.h"
#include "report/page/page_causes.h"
#include "wall/sampling/wall_map.h"

#include <cstdint>
#include <span>
#include <vector>

namespace leastwall {

/// The thinnest samples are looked for at so many settings of the sliders.
inline constexpr std::size_t kPageSettings = 48;

struct PageSamplesOptions {
  std::size_t max_bytes = 4'800'000; ///< of samples and cells, before base64
  std::size_t bytes_per_sample = 20, bytes_per_cell = 12;
  std::vector<std::uint32_t> always; ///< samples to keep in any case
  /// Set: nothing is kept where the promise would be loosened (`within_mm`, `thin_merged`).
  bool strict = false;
  double thin_mm = 1; ///< cells with a worst wall under this keep every sample while that fits
};

struct PageSamples {
  std::vector<std::uint32_t> kept; ///< sample numbers, rising
  std::vector<Tri> cells;          ///< indices into `kept`
  /// Whatever the sliders say, the least wall of the kept samples is that of all, within this, mm.
  double within_mm = 0;
  bool thin_merged = false; ///< there was no room for every sample of the thin cells
};

/// The thinnest samples at some dozens of settings of the sliders are kept in any case. Another
/// sample is left out only when a neighbour in the same small cube stands for it: the neighbour
/// is thinner, or not thicker by more than `within_mm`, at every setting of the sliders; or when
/// no setting makes this sample the thinnest. Cubes grow until the rest fits. The same input gives
/// the same result. Throws RunError when it cannot be made to fit.
PageSamples page_samples(const WallMap& skin, std::span<const double> worst_mm,
                         const PageCauses& causes, const PageSamplesOptions& options,
                         const RunContext& run);

} // namespace leastwall
