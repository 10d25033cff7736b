// Readings that stand alone, and steps: what a smooth shape fitted over all readings would hide.
//
// Plane and quadratic are fitted with and without each reading, and with a step in each gap between
// two rows; the explanation with the least `n ln(s2 + r2) + terms ln n` wins (Schwarz's criterion,
// 1978, with r the resolution of a dial, 0.003 mm). A lone reading must besides lie further off
// than scatter brings one of n readings once in a thousand beds (its deleted residual over its
// standard error, textbook regression diagnostics, from memory), and twice as far as any neighbour
// on the same side. A step must besides explain 0.7 of what a quadratic leaves over.
#pragma once

#include "bed/bed_terms.h"

#include <cstddef>
#include <span>
#include <vector>

namespace leastwall {

struct LoneSample {
  std::size_t index = 0; ///< of the sample
  double height_mm = 0;  ///< over the surface through the others; negative below it
};

struct BedMarks {
  std::vector<LoneSample> lone;   ///< in the order found, at most one in eight and six
  std::vector<BedStepTerm> steps; ///< at most one an axis
};

/// What stands out; nothing with fewer than nine readings. `axes` as in ReadingPlan.
BedMarks find_bed_marks(std::span<const BedSample> samples, int axes);

} // namespace leastwall
