// The reports of a check that need no drawing: the page and the solid.
#pragma once

#include "base/run_context.h"
#include "check/check_job.h"
#include "report/comparison.h"
#include "report/sheet/sheet_paper.h"

#include <string>

namespace leastwall {

/// What reports are made from.
struct ReportInput {
  const JobResult& job;
  const BudgetOptions& budget_options; ///< as stated
  bool inches = false;
  PaperSize paper = PaperSize::a4;
  PictureFile map = PictureFile::png;  ///< of the wall's map
  SheetFile sheet = SheetFile::pdf;    ///< of sheet and card
  const Comparison* against = nullptr; ///< an earlier check, for the JSON
};

/// The page with all walls that somebody drew, the one that governs first where it is among them.
std::string report_page(const ReportInput& input, const RunContext& run);

/// The skin coloured by its expected wall, binary glTF.
std::string solid_of_wall(const CheckResult& wall);

} // namespace leastwall
