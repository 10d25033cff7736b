// A pocket cut upright through its deepest point, to be drawn with its lifts.
#pragma once

#include "spatial/mesh_section.h"

#include <array>
#include <string>
#include <vector>

namespace leastwall {

struct PourSection {
  /// The wetted surface of the pocket, the skin, pockets that are cut into the resin later, and the
  /// pocket whose cured resin this one is cut into.
  SectionPieces pocket, skin, later, around;
  double face_z_mm = 0;
  bool along_x = true; ///< the plane runs along model x, else along y
  double at_mm = 0;    ///< model y of the plane, else model x
};

/// Heights, from below, between which a pocket is air over one point of the plane. `pieces` are
/// those of a surface without lids.
std::vector<std::array<double, 2>> air_over(const SectionPieces& pieces, double along_mm,
                                            double face_z_mm);

/// Lengths of the plane between which a pocket is air at one height.
std::vector<std::array<double, 2>> air_at(const SectionPieces& pieces, double z_mm);

/// Smallest and largest coordinates; absent (low over high) where there are no pieces.
struct SectionBox {
  SectionPoint low{1e300, 1e300}, high{-1e300, -1e300};
  bool empty() const { return low.along_mm > high.along_mm; }
};
SectionBox section_box(const SectionPieces& pieces);

/// What is drawn of a section: the pocket, and what the skin reaches beyond it on the sides and
/// below, up to a share of the pocket's width and a millimetre.
SectionBox shown_box(const PourSection& section, double share);

} // namespace leastwall
