// Whether the readings of a bed lie under the piece that is judged on them.
#pragma once

#include "check/check_job.h"

#include <string>
#include <string_view>

namespace leastwall {

/// Does nothing without readings of the bed. Throws InputError in one line, naming `job` and
/// `origin` (the key or option that says where model 0, 0 lies among the readings):
/// * where the origin was not stated and less than half of the board, as side A lies, is within
///   the outline of the readings: asks for it;
/// * where the origin was stated and no reading comes under the board on side A.
/// The outline of the meshes stands in for a board that was not stated.
void require_bed_under_piece(const JobInput& input, const std::string& job,
                             std::string_view origin);

} // namespace leastwall
