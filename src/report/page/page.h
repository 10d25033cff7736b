// The result as one web page that needs nothing but itself: verdict, the piece to turn, slice and
// tap, sliders that compute the wall anew in the browser, budget, advice, what was assumed.
#pragma once

#include "base/run_context.h"
#include "budget/budget.h"
#include "report/check_report.h"
#include "report/comparison.h"
#include "setup/setup.h"
#include "wall/measure_wall.h"

#include <cstddef>
#include <span>
#include <string>

namespace leastwall {

struct PageInput {
  const CheckReport& report;
  const WallMap& skin;
  const Budget& budget;
  BudgetOptions options; ///< the limit, accepted chance, trials and seed the budget was made with
  const Setup& setup;    ///< as computed with
  bool inches = false;   ///< the unit the page begins with; it can be switched there
  std::size_t max_bytes = 7'900'000; ///< of the page
  /// What `skin` was measured as; without it no sections are drawn.
  const WallMeasurement* wall = nullptr;
  std::string inner = "pocket", outer = "skin"; ///< what bounds the wall
  const Comparison* against = nullptr;          ///< before and after an earlier check
};

/// One wall of a job that has several.
struct PageWall {
  std::size_t number = 0; ///< in the job's report
  PageInput input;
};

/// HTML in UTF-8. It asks the network for nothing (a policy in the page forbids it). Expected and
/// worst-case wall follow the sliders within 0.001 mm of what the program finds; `page_samples.h`
/// says when samples are left out. The same input gives the same bytes. Throws RunError when
/// counts do not match or the piece cannot be made to fit, Cancelled.
std::string page_html(const PageInput& input, const RunContext& run);

/// The same for several walls: the job's verdict and a table of all its walls on top; one wall at a
/// time below it, that of the address ("#wall-3"), else the first of `walls`; in the solid view all
/// of them together. Sliders move the wall that is shown; advice, warnings and what was assumed are
/// the job's. `max_bytes` of the first is that of the whole page; a wall with more thin samples
/// than there is room for has its numbers in the table alone.
std::string job_page_html(const CheckReport& job, std::span<const PageWall> walls,
                          const RunContext& run);

} // namespace leastwall
