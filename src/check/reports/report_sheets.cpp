#include "check/reports/report_sheets.h"

#include "check/work_steps.h"
#include "report/section/section_picture.h"
#include "report/sheet/setup_sheet.h"

#include <numeric>

namespace leastwall {

std::string report_sheet(const ReportInput& input, const RunContext&) {
  if (input.job.walls.size() > 1)
    return job_sheet(input.job, {input.paper, input.inches, input.sheet});
  const CheckResult& r = input.job.governing_wall();
  SetupSheetInput whole{r.report, r.setup, r.flip_stated, &r.wall.skin, r.budget.worst_mm};
  std::vector<std::size_t> rows(input.job.pour ? input.job.pour->report.rows.size() : 0);
  std::iota(rows.begin(), rows.end(), std::size_t{0});
  whole.pour = input.job.pour.get();
  whole.pour_rows = rows;
  const SectionPictureInput section = governing_section(input.job);
  whole.section = &section;
  const std::vector<HoleMark> holes = hole_marks(input.job);
  whole.holes = holes;
  whole.dowel_hole_mm = 2 * input.job.flip_hole_radius_mm;
  return setup_sheet(whole, {input.paper, input.inches, input.sheet});
}

std::string report_card(const ReportInput& input, const RunContext&) {
  return job_card(input.job, {input.paper, input.inches, input.sheet});
}

} // namespace leastwall
