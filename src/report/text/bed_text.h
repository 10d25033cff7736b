// The result of `bed` for people at a terminal.
#pragma once

#include "report/bed_report.h"
#include "report/text/text_report.h"

#include <string>

namespace leastwall {

/// Complete text in UTF-8 with a newline at the end, no line wider than `options.width`: what was
/// understood, flatness, tilt and shape, likely causes; sag and tram; the piece; what to mind.
std::string bed_text(const BedReport& report, const TextOptions& options);

} // namespace leastwall
