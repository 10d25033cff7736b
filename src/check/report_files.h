// What a check can write: one table serves the options and the folder of reports.
#pragma once

#include "base/run_context.h"
#include "check/check_piece.h"
#include "report/sheet/sheet_paper.h"

#include <span>
#include <string>

namespace leastwall {

/// What reports are made from.
struct ReportInput {
  const CheckResult& result;
  const BudgetOptions& budget_options; ///< as stated
  bool inches = false;
  PaperSize paper = PaperSize::a4;
};

enum class ReportNeeds {
  nothing,
  whole_setup, ///< quick flags do not state one
  bed_readings
};

struct ReportFile {
  const char* name; ///< in the folder
  ReportNeeds needs;
  std::string (*bytes)(const ReportInput&, const RunContext&);
};

/// Every file of a folder of reports, in the order they are written.
std::span<const ReportFile> report_files();

/// One of them by its name; throws RunError when there is none.
const ReportFile& report_file(std::string_view name);

inline constexpr const char* kJsonName = "check.json";
inline constexpr const char* kWallMapName = "wall.png";
inline constexpr const char* kSheetName = "setup-sheet.pdf";

} // namespace leastwall
