// Leaf light-panel: a leaf carved from both faces of a board, thin between its veins so that light
// shines through; a thick border and ground around it.
// Model frame, mm: x right, y away, z up out of the pocket face (z = 0); the skin face is z = -8.
#pragma once

namespace leastwall::demo {

struct LeafPanel {
  static constexpr double width_mm = 160, height_mm = 100, board_mm = 8;
};

/// Two depths below the pocket face, mm.
struct LeafDepths {
  double back = 0;  ///< floor of the pocket cut from the back
  double front = 0; ///< surface of the relief cut from the front; deeper than `back`
};

/// Depths at a point of the panel, x in -80..80, y in -50..50.
LeafDepths leaf_depths(double x, double y);

} // namespace leastwall::demo
