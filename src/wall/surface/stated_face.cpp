#include "wall/surface/stated_face.h"

#include <cmath>
#include <fmt/format.h>

namespace leastwall {

PocketFace stated_face(double top_z_mm, const ShownFace& shown, std::vector<Notice>& notices) {
  const std::optional<double> z = shown.z_mm();
  const auto opening_at = [](double top, double said) {
    return PocketFace{top, true,
                      fmt::format("The pocket face is at z = {:.3f} mm, as stated; facets on it or "
                                  "above it are not wall.",
                                  said)};
  };
  if (z && std::abs(top_z_mm - *z) <= kSameFace_mm)
    return opening_at(*z, *z);
  if (z && top_z_mm > *z && shown.found.opens) {
    notices.push_back(
        {"face-disagrees",
         fmt::format("You said the pocket face is at z = {:.3f} mm, the meshes show it at z = "
                     "{:.3f} mm. The walls were measured with what the meshes show; state that "
                     "height, or leave it out.",
                     top_z_mm, *z),
         Severity::unproven});
    return shown.found;
  }
  if (z && top_z_mm > *z)
    notices.push_back({"face-above-rim",
                       fmt::format("You said the pocket face is at z = {:.3f} mm, the pocket's rim "
                                   "is at z = {:.3f} mm. Wood beside the pocket was measured up to "
                                   "the rim; draw the pocket up to its face.",
                                   top_z_mm, *z),
                       Severity::doubt});
  return opening_at(top_z_mm, top_z_mm);
}

} // namespace leastwall
