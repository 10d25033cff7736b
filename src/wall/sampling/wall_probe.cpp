#include "wall/sampling/wall_probe.h"

namespace leastwall {

WallProbe::Reading WallProbe::read(Vec3 p, Vec3 normal_here, std::optional<std::uint32_t> hint,
                                   const WallSample* beside) const {
  // A ball as wide as the wall holds no surface, so all of it is on one side.
  const bool told = beside != nullptr && side_.same(p, beside->at) &&
                    distance(p, beside->at) < std::abs(beside->wall_mm) * (1 - 1e-9);
  const auto side = [&] { return told ? beside->wall_mm < 0 : side_.in_air(p); };
  if (guide_ != nullptr)
    if (const double sure = guide_->at_least(p); sure > beyond_mm_ && !side()) {
      const Vec3 out = normal_here.z > 0 ? -normal_here : normal_here;
      return {{p, unit(out), sure}, hint.value_or(0)};
    }
  const SurfaceHit hit = there_.nearest(p, hint);
  const bool air = side();
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
