// The pockets of a pour in section, filled lift by lift, with their thin places seen from above.
#pragma once

#include "report/pour/pour.h"

#include <string>

namespace leastwall {

/// The bytes of a PNG file, the same for the same input.
std::string draw_pour_picture(const Pour& pour, bool inch);

} // namespace leastwall
