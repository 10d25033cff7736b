#include "budget/trials/shared_sensitivities.h"

#include <algorithm>
#include <optional>

namespace leastwall {

void sensitivities_at(std::span<const Cause> causes, std::span<const Scalar> scalars,
                      const WallSample& p, std::span<double> row) {
  for (std::size_t s = 0; s < scalars.size(); ++s) {
    const Cause& cause = causes[scalars[s].cause];
    row[s] = scalars[s].second ? cause.sensitivity_2(p) : cause.sensitivity(p);
  }
}

SharedSensitivities::SharedSensitivities(std::span<const double> rows, std::size_t scalars)
    : shares_(scalars) {
  // Where the leader is not zero the factor is known, and it is 0 as soon as s is 0 there.
  const auto factor_to = [&](std::size_t s, std::size_t r) -> std::optional<double> {
    std::optional<double> factor;
    for (std::size_t at = 0; at < rows.size(); at += scalars) {
      const double a = rows[at + r], b = rows[at + s];
      if (!factor && a != 0)
        factor = b / a;
      if (b != factor.value_or(0) * a)
        return std::nullopt;
    }
    return factor.value_or(0);
  };
  for (std::size_t s = 0; s < scalars; ++s) {
    shares_[s] = {leaders_.size(), 1};
    for (std::size_t g = 0; g < leaders_.size(); ++g)
      if (const std::optional<double> factor = factor_to(s, leaders_[g])) {
        shares_[s] = {g, *factor};
        break;
      }
    if (shares_[s].column == leaders_.size())
      leaders_.push_back(s);
  }
}

bool SharedSensitivities::fits(std::span<const double> row) const {
  for (std::size_t s = 0; s < shares_.size(); ++s)
    if (row[s] != shares_[s].factor * row[leaders_[shares_[s].column]])
      return false;
  return true;
}

void SharedSensitivities::reduce(std::span<const double> row, std::span<double> columns) const {
  for (std::size_t g = 0; g < leaders_.size(); ++g)
    columns[g] = row[leaders_[g]];
}

void SharedSensitivities::sum(std::span<const double> errors, std::span<double> columns) const {
  std::fill(columns.begin(), columns.end(), 0.0);
  for (std::size_t s = 0; s < errors.size(); ++s)
    columns[shares_[s].column] += shares_[s].factor * errors[s];
}

void SharedSensitivities::bounds(std::span<const double> low, std::span<const double> high,
                                 std::span<double> columns_low,
                                 std::span<double> columns_high) const {
  std::fill(columns_low.begin(), columns_low.end(), 0.0);
  std::fill(columns_high.begin(), columns_high.end(), 0.0);
  for (std::size_t s = 0; s < shares_.size(); ++s) {
    const double a = shares_[s].factor * low[s], b = shares_[s].factor * high[s];
    columns_low[shares_[s].column] += std::min(a, b);
    columns_high[shares_[s].column] += std::max(a, b);
  }
}

} // namespace leastwall
