#include "check/reports/report_page.h"

#include "report/mesh/coloured_mesh.h"
#include "report/page/page.h"
#include "report/words/wall_name.h"

#include <vector>

namespace leastwall {
namespace {

PageInput page_input(std::size_t w, const ReportInput& input) {
  const CheckResult& r = input.job.walls[w];
  const NamedWall& named = input.job.report.walls[w];
  BudgetOptions options = input.budget_options;
  options.limit_mm = r.report.wall.limit_mm;
  return {.report = r.report,
          .skin = r.wall.skin,
          .budget = r.budget,
          .options = options,
          .setup = r.setup,
          .inches = input.inches,
          .wall = &r.wall,
          .inner = named.inner,
          .outer = named.outer,
          .against = input.against};
}

} // namespace

std::string solid_of_wall(const CheckResult& r) {
  return coloured_glb(r.wall.skin, r.budget.expected_mm);
}

std::string report_page(const ReportInput& input, const RunContext& run) {
  if (input.job.walls.size() == 1)
    return page_html(page_input(0, input), run);
  std::vector<PageWall> walls;
  for (const std::size_t w : worst_first(input.job.report.walls))
    if (input.job.drawn[w])
      walls.push_back({w, page_input(w, input)});
  return job_page_html(input.job.report, walls, run);
}

} // namespace leastwall
