#include "wall/wall_probe.h"

#include <algorithm>

namespace leastwall {

bool WallProbe::in_air(Vec3 p) const {
  p.z = std::min(p.z, sign_top_mm_);
  const AirRule::Answer answer = air_.ask(p);
  if (answer.ambiguous)
    ++ambiguous_;
  return answer.air;
}

WallProbe::Reading WallProbe::read(Vec3 p, Vec3 normal_here,
                                   std::optional<std::uint32_t> hint) const {
  if (guide_ != nullptr)
    if (const double sure = guide_->at_least(p); sure > beyond_mm_ && !in_air(p)) {
      const Vec3 out = normal_here.z > 0 ? -normal_here : normal_here;
      return {{p, unit(out), sure}, hint.value_or(0)};
    }
  const SurfaceHit hit = there_.nearest(p, hint);
  const bool air = in_air(p);
  Reading reading;
  reading.triangle = hit.triangle;
  reading.sample.at = p;
  reading.sample.wall_mm = air ? -hit.distance : hit.distance;
  // Outwards, from pocket to skin: along p - point on the skin, against it on the pocket, and the
  // other way round where the surfaces have passed each other.
  Vec3 n = p - hit.point;
  if (length_squared(n) > 0)
    n = here_is_skin_ == air ? -n : n;
  else
    n = normal_here.z > 0 ? -normal_here : normal_here;
  reading.sample.n = unit(n);
  return reading;
}

} // namespace leastwall
