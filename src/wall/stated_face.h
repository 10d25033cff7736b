// The pocket face that somebody stated, against the flat that the meshes show.
#pragma once

#include "base/notice.h"
#include "wall/machined_surface.h"

#include <vector>

namespace leastwall {

/// The face to measure with when z = `top_z_mm` was stated and `found` was found.
///
/// Stated above a flat that was found: both lids would count as wall and touch one another, so the
/// flat stays the face and a notice says so (face-disagrees, unproven). Stated below it: what rises
/// above is left out, as for bodies that are drawn taller than the board, and a notice tells what
/// was left out where a wall may stand there (face-below-flat, doubt).
PocketFace stated_face(double top_z_mm, const PocketFace& found, std::vector<Notice>& notices);

} // namespace leastwall
