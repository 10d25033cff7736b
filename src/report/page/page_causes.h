// The causes as the page computes with them: which column of numbers each sample carries serves
// which cause, and how far its slider goes.
#pragma once

#include "base/run_context.h"
#include "causes/model/cause.h"
#include "wall/sampling/wall_map.h"

#include <cstdint>
#include <span>
#include <vector>

namespace leastwall {

/// One scalar of a cause: its sensitivity at sample p is factor * columns[p][column].
struct PageScalar {
  std::size_t column = 0;
  double factor = 0;
};

struct PageCause {
  PageScalar first, second;               ///< the second is of use for a disc or a field alone
  double slider_low = 0, slider_high = 0; ///< sizes the page lets one try, in the cause's unit
};

struct PageCauses {
  std::vector<PageCause> causes; ///< in the order given
  std::size_t columns = 0;
  std::vector<float> values; ///< samples x columns, row by row, mm per unit
  /// The most that any setting of the sliders moves a wall, mm per unit of each column: known
  /// shifts alone, and everything.
  std::vector<double> reach_shift, reach_all;

  /// Errors that vary over the piece (causes/model/error_field.h): those that act on some sample,
  /// numbered anew; which error of which cause each is, and the most it can be, in the cause's
  /// unit.
  struct Local {
    std::size_t cause = 0;
    std::uint32_t part = 0;
    double reach = 0;
  };
  std::vector<Local> local;
  std::vector<std::size_t> first_share; ///< by sample, one more than samples; empty without any
  std::vector<ErrorShare> shares;       ///< `error` is an index into `local`
  std::span<const ErrorShare> shares_of(std::size_t sample) const {
    if (first_share.empty())
      return {};
    return std::span(shares).subspan(first_share[sample],
                                     first_share[sample + 1] - first_share[sample]);
  }
};

/// Causes that act alike share a column (see budget/trials/shared_sensitivities.h). The first
/// `stated` are those of the report; the others (causes/unstated_causes.h) can be tried from
/// nothing up to their size.
PageCauses page_causes(std::span<const Cause> causes, std::size_t stated,
                       std::span<const WallSample> samples, const RunContext& run);

} // namespace leastwall
