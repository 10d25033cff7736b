// What a page of the setup sheet warns of, before anything else on it.
#pragma once

#include "report/check_report.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// The side a notice speaks of. Absent: both.
std::optional<Side> side_of_notice(const Notice& notice);

/// Notices for the page of a side: those that leave walls unproven, then doubts, then warnings.
/// Left out are warnings about one mesh file ("Pocket: ...", "Skin: ..."), which the machine has
/// no use for (see `mesh_remarks`), and the pad's own, which stands where the pad would.
std::vector<Notice> sheet_notices(const CheckReport& report, Side side);

/// How many warnings about mesh files the report has beyond the sheet.
std::size_t mesh_remarks(const CheckReport& report);

/// The first line of the box: how much what follows weighs.
std::string notices_heading(const std::vector<Notice>& notices);

} // namespace leastwall
