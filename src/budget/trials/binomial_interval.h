// How sure a chance is that was counted.
#pragma once

#include <cstdint>

namespace leastwall {

struct Interval {
  double low = 0, high = 1;
};

/// Clopper and Pearson's interval (1934) for the chance behind `hits` of `trials`, at the given
/// confidence: never covers less than it says. Trials >= 1, hits <= trials.
Interval clopper_pearson(std::uint64_t hits, std::uint64_t trials, double confidence = 0.95);

/// Regularised incomplete beta function I_x(a, b), a, b > 0, by its continued fraction
/// (NIST DLMF 8.17.22, evaluated as Lentz does).
double incomplete_beta(double a, double b, double x);

} // namespace leastwall
