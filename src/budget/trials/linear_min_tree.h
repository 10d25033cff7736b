// The least of many linear functions: min over samples of w + c.e, for one e after the other.
#pragma once

#include "base/run_context.h"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace leastwall {

/// What is known of the e that will be asked for.
struct ErrorReach {
  std::span<const double> usual;     ///< size that e_j usually has
  std::span<const double> low, high; ///< every e lies between; empty: e may be anything
};

/// A tree of boxes over the rows (w, c). In a box with least w and c between lo and hi, no row is
/// below  w + sum(e > 0 ? lo e : hi e), so a box whose bound is not below the best row found so far
/// holds nothing better and is skipped: the answer is that of looking at every row (to rounding,
/// 1e-12 mm), whatever the errors are.
///
/// Where e is bounded, a row p that another row q undercuts everywhere between the bounds,
///   w_p - w_q + sum_j min((c_pj - c_qj) low_j, (c_pj - c_qj) high_j) >= 0,
/// can never be the least and is left out while the tree is built.
class LinearMinTree {
 public:
  /// `c` row by row, `columns` each; boxes are cut where usual errors spread the wall most. At
  /// least one row. The tree is the same on any number of threads.
  LinearMinTree(std::vector<double> w, std::vector<double> c, std::size_t columns,
                const ErrorReach& reach, const RunContext& run);

  /// min over rows of w + c.e, or `start` when none is below that. Safe from many threads.
  double least(std::span<const double> e, double start) const { return search(e, start, false); }

  /// True when some row has w + c.e < limit.
  bool any_below(std::span<const double> e, double limit) const {
    return search(e, limit, true) < limit;
  }

  /// Rows that were kept.
  std::size_t rows() const { return w_.size(); }

 private:
  struct Node {
    double w = 0;
    std::uint32_t begin = 0, end = 0; // rows
    std::uint32_t left = 0;           // children left, left + 1; 0: leaf
  };
  class Builder;
  double bound(std::size_t node, const double* positive, const double* negative) const;
  double search(std::span<const double> e, double best, bool first) const;

  std::size_t columns_ = 0;
  std::vector<Node> nodes_;
  std::vector<double> box_; // per node: lo..., hi...
  std::vector<double> w_, c_;
};

} // namespace leastwall
