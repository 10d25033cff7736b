#include "space/single.h"

namespace leastwall {

double in_single(double v) {
  const volatile float single = static_cast<float>(v); // see single.h
  return static_cast<double>(single);
}

Vec3 in_single(Vec3 v) {
  return {in_single(v.x), in_single(v.y), in_single(v.z)};
}

} // namespace leastwall
