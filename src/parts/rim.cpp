#include "parts/rim.h"

#include "base/maths/hypot.h"

#include <array>
#include <cmath>

namespace leastwall {
namespace {

constexpr double kUnder_mm = 0.02; // deeper than what single precision rounds off a rim

} // namespace

Rim rim_of(const TriMesh& skin, double face_z_mm) {
  Rim out;
  const double cut = face_z_mm - kUnder_mm;
  for (const Tri& t : skin.triangles) {
    const std::array<Vec3, 3> v{skin.vertices[t[0]], skin.vertices[t[1]], skin.vertices[t[2]]};
    std::array<Vec3, 2> ends;
    std::size_t found = 0;
    for (std::size_t k = 0; k < 3 && found < 2; ++k) {
      // From the lower to the upper end, so that both facets of an edge find the same point.
      Vec3 low = v[k], high = v[(k + 1) % 3];
      if ((low.z > cut) == (high.z > cut))
        continue;
      if (low.z > high.z)
        std::swap(low, high);
      ends[found++] = low + (high - low) * ((cut - low.z) / (high.z - low.z));
    }
    if (found < 2)
      continue;
    const double run = length(ends[1] - ends[0]);
    const Vec3 across = cross(v[1] - v[0], v[2] - v[0]);
    const double size = length(across);
    if (!(run > 0) || !(size > 0))
      continue;
    const Vec3 n = across * (1 / size);
    if (maths::hypot(n.x, n.y) < kLeastRimSteepness) {
      out.flat_mm += run;
      continue;
    }
    const Vec3 middle = (ends[0] + ends[1]) * 0.5;
    out.points.push_back({{middle.x, middle.y, face_z_mm}, n, run});
  }
  return out;
}

} // namespace leastwall
