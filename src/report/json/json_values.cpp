#include "report/json/json_values.h"

#include "base/errors.h"

#include <cmath>

namespace leastwall {

double json_number(double value) {
  if (!std::isfinite(value))
    throw RunError("report: a result is not a finite number, so no JSON was written; please keep "
                   "the meshes and report it as a fault of leastwall");
  if (std::abs(value) >= 1e9) // no decimals left to round, and the product could overflow
    return value;
  return std::round(value * 1e6) / 1e6 + 0.0; // + 0.0 turns -0 into 0
}

Json json_point(Vec3 p) {
  return Json::array({json_number(p.x), json_number(p.y), json_number(p.z)});
}

} // namespace leastwall
