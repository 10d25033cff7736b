// Warnings for a short report.
#pragma once

#include "base/notice.h"

#include <vector>

namespace leastwall {

/// Those that do not stand under the verdict already (`look_first`). That several meshes are open
/// is said once for all of them.
std::vector<Notice> short_warnings(const std::vector<Notice>& warnings);

} // namespace leastwall
