// Slips that show in the boxes of pocket and skin before anything is measured: wrong unit, swapped
// files, a model on its side, meshes that do not meet. They are proposed, never applied.
#pragma once

#include "base/notice.h"
#include "space/box.h"

#include <vector>

namespace leastwall {

/// At most one notice: the likeliest mistake that would explain how the boxes lie, with the fix.
/// Empty when the pocket lies over the skin as it should. Boxes in mm, model space, not empty.
/// Codes: pocket-unit, skin-unit, pocket-mirrored, on-its-side, meshes-apart (all unproven);
/// meshes-swapped, pocket-outside (doubts: boxes alone cannot tell a plate that is wider than the
/// other; what was measured can, fit_findings.h).
std::vector<Notice> likely_mistakes(const Box& pocket, const Box& skin);

/// A notice (stated-face-apart) when the pocket face that somebody stated lies further above both
/// meshes than they are high, or not above anything. Same frame, mm.
std::vector<Notice> stated_face_mistakes(double top_z_mm, const Box& pocket, const Box& skin);

} // namespace leastwall
