// Errors that act alike share a column: touch-offs, tip heights, setters and thickness all move the
// wall by a factor times -n_z, so a trial needs only their sum.
#pragma once

#include "budget/trials/trial_draws.h"
#include "causes/model/cause.h"
#include "wall/sampling/wall_map.h"

#include <cstddef>
#include <span>
#include <vector>

namespace leastwall {

/// Sensitivities of one sample, one per scalar.
void sensitivities_at(std::span<const Cause> causes, std::span<const Scalar> scalars,
                      const WallSample& p, std::span<double> row);

class SharedSensitivities {
 public:
  /// Scalar s shares the column of an earlier scalar r when c_s = factor c_r on every row (`rows`
  /// row by row, one number per scalar). A factor found on some samples must be checked on all.
  SharedSensitivities(std::span<const double> rows, std::size_t scalars);

  std::size_t count() const { return leaders_.size(); }
  /// Whether every shared scalar is its factor times its leader on this row, too.
  bool fits(std::span<const double> row) const;
  /// The leaders' sensitivities of a row.
  void reduce(std::span<const double> row, std::span<double> columns) const;
  /// Errors of one trial, summed into columns.
  void sum(std::span<const double> errors, std::span<double> columns) const;
  /// The least and the largest sum of each column when every error lies between `low` and `high`.
  void bounds(std::span<const double> low, std::span<const double> high,
              std::span<double> columns_low, std::span<double> columns_high) const;

 private:
  struct Share {
    std::size_t column = 0;
    double factor = 1;
  };
  std::vector<Share> shares_;        // per scalar
  std::vector<std::size_t> leaders_; // scalar of each column
};

} // namespace leastwall
