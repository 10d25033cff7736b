#include "wall/stated_face.h"

#include <fmt/format.h>

namespace leastwall {

PocketFace stated_face(double top_z_mm, const PocketFace& found, std::vector<Notice>& notices) {
  constexpr double kAgrees_mm = 0.01;
  if (found.opens && top_z_mm > found.top_z_mm + kAgrees_mm) {
    notices.push_back(
        {"face-disagrees",
         fmt::format("You said the pocket face is at z = {:.3f} mm, the meshes show a flat at z = "
                     "{:.3f} mm. The walls were measured with the flat as the pocket face; state "
                     "that height, or leave it out.",
                     top_z_mm, found.top_z_mm),
         Severity::unproven});
    return found;
  }
  if (found.opens && found.on_skin && top_z_mm < found.top_z_mm - kAgrees_mm)
    notices.push_back(
        {"face-below-flat",
         fmt::format("You said the pocket face is at z = {:.3f} mm, the skin ends in a flat at z = "
                     "{:.3f} mm. No wall between the two was measured; that is right only where "
                     "the meshes are drawn taller than the board.",
                     top_z_mm, found.top_z_mm),
         Severity::doubt});
  return {
      top_z_mm, true,
      fmt::format("The pocket face is at z = {:.3f} mm, as stated; facets on it or above it are "
                  "not wall.",
                  top_z_mm)};
}

} // namespace leastwall
