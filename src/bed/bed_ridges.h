// Straight ridges a fixed distance apart in what a smooth shape leaves over.
//
// The left-over is averaged over each row across the ridges. The single sine that takes away most
// gives the distance; a saw-tooth (both ways: a leaning cutter leaves one), a triangle and the sine
// itself, all near that distance and at any phase, give the height: that of the wave that takes
// away most, because the sine in a saw-tooth is only 2/pi of its height and the one in a triangle
// 8/pi^2 (Fourier). Each is fitted together with a parabola along the row, so that what the smooth
// shape took of it is given back.
#pragma once

#include "bed/flatness.h"
#include "bed/reading_plan.h"

#include <optional>
#include <span>
#include <vector>

namespace leastwall {

struct BedSample;

/// `rest`: mm, one for each sample. Absent with fewer than 30 readings or 8 rows, and where no wave
/// takes away half of the squares of `rest` (more among fewer than some hundred readings).
std::optional<BedShape::Ridges> find_ridges(std::span<const BedSample> samples,
                                            std::span<const double> rest, const ReadingPlan& plan);

} // namespace leastwall
