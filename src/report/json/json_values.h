// Numbers and places as every JSON writer of ours puts them.
#pragma once

#include "space/vec3.h"

#include <nlohmann/json.hpp>

namespace leastwall {

using Json = nlohmann::ordered_json;

/// Rounded to six decimals, never "-0". Throws RunError when `value` is not finite.
double json_number(double value);

/// [x, y, z].
Json json_point(Vec3 p);

} // namespace leastwall
