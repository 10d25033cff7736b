// Where Z is touched, where the answer hangs on it.
#pragma once

#include "base/notice.h"
#include "setup/setup.h"

#include <vector>

namespace leastwall {

/// Whether the walls hang on the place where a side is touched off: heights of bed or board were
/// read in places, or the board is cupped.
bool touch_place_matters(const Setup& setup, Side side);

/// Code "touch-not-stated": a side whose touch point matters and is not stated. What is computed
/// then holds for one place alone, and no one may have touched there. Unproven where the walls
/// `hold` so far, else a doubt.
std::vector<Notice> touch_not_stated(const Setup& setup, bool hold);

/// Warnings about touch points (budget/advice/touch_place.h) that leave the walls unproven, since
/// they hang on a place that no one can touch; `hold` as above.
void weigh_touch(const Setup& setup, bool hold, std::vector<Notice>& notices);

} // namespace leastwall
