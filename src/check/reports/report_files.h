// What a check can write: one table serves the options and the folder of reports.
#pragma once

#include "base/run_context.h"
#include "check/reports/report_page.h"

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

enum class ReportNeeds {
  nothing,
  one_wall,    ///< it shows the one wall of the job
  walls,       ///< it shows several
  seam,        ///< of two halves
  whole_setup, ///< quick flags do not state one
  bed_readings
};

/// Whether `input` has what a report needs.
bool may_be_made(ReportNeeds needs, const JobInput& input, bool from_job_file);

struct ReportFile {
  const char* name; ///< in the folder
  ReportNeeds needs;
  std::string (*bytes)(const ReportInput&, const RunContext&);
};

/// Every file of a folder of reports, in the order they are written.
std::span<const ReportFile> report_files();

/// Of a job with several walls or boards: what is drawn of one of them.
struct NumberedFile {
  std::string name; ///< in the folder: "wall-1.png", "board-2-a.png", ...
  std::function<bool(const JobInput&)> may_be_made;
  std::function<std::string(const JobResult&, bool inches)> bytes;
};

/// Those of every wall and every further board that a job may have.
std::vector<NumberedFile> numbered_files();

/// One of them by its name; throws RunError when there is none.
const ReportFile& report_file(std::string_view name);

inline constexpr const char* kJsonName = "check.json";
inline constexpr const char* kPageName = "report.html";
inline constexpr const char* kWallMapName = "wall.png";
inline constexpr const char* kSheetName = "setup-sheet.pdf";
inline constexpr const char* kCardName = "setup-card.pdf";

} // namespace leastwall
