// Narrow gaps in a surface: stretches of outlines that face each other.
#pragma once

#include "wall/surface/open_edge.h"
#include "wall/surface/open_runs.h"

#include <vector>

namespace leastwall {

/// Short edges that go on straight, one behind the other, as one edge of at most 0.25 mm: a fine
/// outline is looked at no longer than a coarse one.
std::vector<OpenEdge> join_short(const std::vector<OpenEdge>& edges);

/// Stretches of outlines that face each other across at most kSlit_mm, each as a run of points in
/// the middle of the gap. Ends with none, and no look left, where more edges lie in one place than
/// can be looked at: a slit may then be missed.
std::vector<OpenRun> slits(const std::vector<OpenEdge>& edges, Looks& looks);

} // namespace leastwall
