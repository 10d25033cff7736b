// The bed as the page draws it: heights, readings, both boards and touch points.
#pragma once

#include "report/json/json_values.h"
#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

namespace leastwall {

/// "readings" (absent when the set-up has fewer than three; "count" says how many): x, y, height of
/// every place that was read; "heights": the surface between them on a lattice, null where nothing
/// was read; what `draw_bed_map` shows of the piece besides. "flatness": the flatness that was
/// stated instead. Heights and places mm, bed frame, rounded to 0.0001 mm.
Json page_bed(const Setup& setup, const WallMap& skin);

} // namespace leastwall
