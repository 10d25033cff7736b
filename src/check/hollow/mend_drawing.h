// The picture of a mended pocket.
#pragma once

#include "check/hollow/mend_job.h"

#include <string>

namespace leastwall {

/// The bytes of a PNG file (report/section/mend_picture.h).
std::string mend_drawing(const JobWithPocket& job, const Mended& mended, bool inch);

} // namespace leastwall
