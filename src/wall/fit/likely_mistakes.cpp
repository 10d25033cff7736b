#include "wall/fit/likely_mistakes.h"

#include "base/units.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <utility>

namespace leastwall {
namespace {

/// How far `inner` may stick out of `outer` and still count as inside: a pocket is often drawn a
/// little larger than the board, and sheets end where they end.
constexpr double kSlack = 0.02;

bool within(double low, double high, double outer_low, double outer_high) {
  const double slack = kSlack * (outer_high - outer_low);
  return low >= outer_low - slack && high <= outer_high + slack;
}

/// Seen from above; heights differ between sheets and bodies.
bool plan_within(const Box& inner, const Box& outer) {
  return within(inner.low.x, inner.high.x, outer.low.x, outer.high.x) &&
         within(inner.low.y, inner.high.y, outer.low.y, outer.high.y);
}

bool plan_apart(const Box& a, const Box& b) {
  return a.high.x < b.low.x || b.high.x < a.low.x || a.high.y < b.low.y || b.high.y < a.low.y;
}

Box scaled(const Box& b, double factor) {
  return {b.low * factor, b.high * factor};
}

/// Mirrored about the origin: a factor of -1 for the axis, 1 for the others.
Box flipped(const Box& b, double x, double y) {
  Box f;
  f.add(Vec3{b.low.x * x, b.low.y * y, b.low.z});
  f.add(Vec3{b.high.x * x, b.high.y * y, b.high.z});
  return f;
}

/// Fits in the outer box and fills a good part of it: what a pocket does.
bool plausible(const Box& pocket, const Box& skin) {
  return plan_within(pocket, skin) &&
         pocket.size().x * pocket.size().y > 0.02 * skin.size().x * skin.size().y;
}

std::string size_text(const Box& b) {
  const Vec3 s = b.size();
  return fmt::format("{:.1f} x {:.1f} x {:.1f} mm", s.x, s.y, s.z);
}

/// The sizes match but along other axes: one of the two lies on another side.
bool lies_on_side(const Box& pocket, const Box& skin) {
  const Vec3 p = pocket.size(), s = skin.size();
  const auto fits = [](std::array<double, 3> inner, std::array<double, 3> outer) {
    for (std::size_t i = 0; i < 3; ++i)
      if (inner[i] > outer[i] * (1 + 2 * kSlack))
        return false;
    return true;
  };
  std::array<double, 3> inner{p.x, p.y, p.z}, outer{s.x, s.y, s.z};
  if (fits(inner, outer))
    return false;
  std::sort(inner.begin(), inner.end());
  std::sort(outer.begin(), outer.end());
  return fits(inner, outer) && inner[2] > 0.5 * outer[2];
}

} // namespace

std::vector<Notice> likely_mistakes(const Box& pocket, const Box& skin) {
  const std::string sizes = fmt::format("Pocket {}, skin {}.", size_text(pocket), size_text(skin));
  if (lies_on_side(pocket, skin))
    return {{"on-its-side",
             sizes + " One of the two seems to lie on another side; z must point up "
                     "out of the pocket face in both.",
             Severity::unproven}};
  if (!plausible(pocket, skin)) {
    for (const double unit : {kMillimetresPerInch, 1000.0}) {
      const char* name = unit == kMillimetresPerInch ? "inches" : "metres";
      if (plausible(scaled(pocket, unit), skin))
        return {{"pocket-unit",
                 fmt::format("{} The pocket would fit if its numbers were {}: write "
                             "it again in mm, or state its unit.",
                             sizes, name),
                 Severity::unproven}};
      if (plausible(pocket, scaled(skin, unit)))
        return {{"skin-unit",
                 fmt::format("{} The pocket would fit if the skin's numbers were {}: "
                             "write the skin again in mm, or state its unit.",
                             sizes, name),
                 Severity::unproven}};
    }
    for (const auto& [axis, other] :
         {std::pair{"x", flipped(pocket, -1, 1)}, std::pair{"y", flipped(pocket, 1, -1)}})
      if (plausible(other, skin))
        return {{"pocket-mirrored",
                 fmt::format("{} The pocket would fit if it were mirrored in {}: one of the two "
                             "halves may be the other hand; write it again the right way round.",
                             sizes, axis),
                 Severity::unproven}};
    if (plan_apart(pocket, skin))
      return {{"meshes-apart",
               sizes + " Seen from above they do not even overlap; write both with "
                       "the same origin.",
               Severity::unproven}};
  }
  if (plan_within(skin, pocket) && !plan_within(pocket, skin))
    return {{"meshes-swapped",
             sizes + " The skin lies inside the pocket: they may have been "
                     "swapped.",
             Severity::doubt}};
  // Of two sheets of one outline the skin is the lower one.
  if (plan_within(skin, pocket) && skin.low.z > pocket.low.z && skin.high.z > pocket.high.z)
    return {{"meshes-swapped",
             "The skin lies above the pocket: they may have been swapped, or z "
             "points the wrong way.",
             Severity::doubt}};
  if (!plan_within(pocket, skin))
    return {{"pocket-outside",
             sizes + " The pocket sticks out of the skin sideways; check that "
                     "both have the same origin.",
             Severity::doubt}};
  return {};
}

std::vector<Notice> stated_face_mistakes(double top_z_mm, const Box& pocket, const Box& skin) {
  const double low = std::min(pocket.low.z, skin.low.z);
  const double high = std::max(pocket.high.z, skin.high.z);
  if (top_z_mm > low && top_z_mm - high <= high - low) // a cut may begin well under the face
    return {};
  return {
      {"stated-face-apart",
       fmt::format("The stated pocket face, z = {:.3f} mm, lies {} the meshes, z {:.3f} to {:.3f} "
                   "mm. State it as the meshes have it, or leave it out: it is found then.",
                   top_z_mm, top_z_mm > high ? "above" : "below", low, high),
       Severity::doubt}};
}

} // namespace leastwall
