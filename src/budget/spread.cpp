#include "budget/spread.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leastwall {
namespace {

double limit_of(const Cause& cause, bool normal) {
  return normal ? kNormalLimit * cause.size : cause.size;
}

// The floor is min(finish, rough): e = min(0, x) with x = allowance + r - f, r the roughing bit's
// error and f the sum of the finishing bit's. At the very worst the floor is at
// min(-f_limit, allowance - r_limit); the finishing causes account for f_limit already, so what is
// added is max(0, r_limit - allowance - f_limit). The spread takes x as normal with mean m =
// allowance and variance v = u_r^2 + u_f^2; then E[min(0,x)^2] = (m^2 + v) Phi(-m/s) - m s phi(m/s)
// (about zero, so that the small mean counts as spread). c < 0 would make the wall thicker.
Effect overtaken_effect(std::span<const Cause> causes, std::size_t k, double c) {
  const Cause& rough = causes[k];
  double f_limit = 0;
  double v = rough.normal_roughing ? rough.size * rough.size : rough.size * rough.size / 3;
  for (const std::size_t i : rough.finishing) {
    const bool normal = causes[i].distribution == Distribution::normal;
    f_limit += limit_of(causes[i], normal);
    v += normal ? causes[i].size * causes[i].size : causes[i].size * causes[i].size / 3;
  }
  Effect effect;
  effect.half_width = std::max(0.0, c) * std::max(0.0, limit_of(rough, rough.normal_roughing) -
                                                           rough.allowance_mm - f_limit);
  if (v > 0) {
    const double s = std::sqrt(v), z = rough.allowance_mm / s;
    const double density = std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi);
    const double tail = std::erfc(z / std::numbers::sqrt2) / 2;
    effect.u = std::abs(c) * s * std::sqrt(std::max(0.0, (z * z + 1) * tail - z * density));
  }
  return effect;
}

} // namespace

Effect effect_of(std::span<const Cause> causes, std::size_t k, double c, double c2) {
  const Cause& cause = causes[k];
  const double reach = std::abs(c) * cause.size;
  if (cause.field) { // c adds up the limits of its errors, c2 their squares
    const bool normal = cause.distribution == Distribution::normal;
    return {0, normal ? kNormalLimit * reach : reach,
            c2 * cause.size / (normal ? 1.0 : std::sqrt(3.0))};
  }
  switch (cause.distribution) {
  case Distribution::shift:
    return {c * cause.size, 0, 0};
  case Distribution::rectangle:
    return {0, reach, reach / std::sqrt(3.0)};
  case Distribution::normal:
    return {0, kNormalLimit * reach, reach};
  case Distribution::one_sided:
    return {c * cause.size / 2, reach / 2, reach / std::sqrt(12.0)};
  case Distribution::disc: {
    const double length = cause.size * std::hypot(c, c2);
    return {0, length, length / 2};
  }
  case Distribution::overtaken:
    return overtaken_effect(causes, k, c);
  }
  return {};
}

void effects_at(std::span<const Cause> causes, const CausePoint& p, std::span<Effect> out) {
  for (std::size_t k = 0; k < causes.size(); ++k) {
    const double c2 = causes[k].sensitivity_2 ? causes[k].sensitivity_2(p) : 0.0;
    out[k] = effect_of(causes, k, causes[k].sensitivity(p), c2);
  }
}

Limits::Limits(std::span<const Cause> causes) : causes_(causes) {
  for (std::size_t k = 0; k < causes.size(); ++k) {
    // Both are proportional to c; a disc's length is found place by place.
    const Effect one = effect_of(causes, k, 1, 0);
    scales_.push_back({one.shift, one.half_width});
  }
}

Limits::At Limits::at(const CausePoint& p) const {
  At sum;
  for (std::size_t k = 0; k < causes_.size(); ++k) {
    const double c = causes_[k].sensitivity(p);
    switch (causes_[k].distribution) {
    case Distribution::disc:
      sum.half_width += scales_[k].half_width * std::hypot(c, causes_[k].sensitivity_2(p));
      break;
    case Distribution::overtaken:
      sum.half_width += scales_[k].half_width * std::max(0.0, c);
      break;
    default:
      sum.shift += scales_[k].shift * c;
      sum.half_width += scales_[k].half_width * std::abs(c);
    }
  }
  return sum;
}

Effect sum_of(std::span<const Effect> effects) {
  Effect sum;
  double variance = 0;
  for (const Effect& e : effects) {
    sum.shift += e.shift;
    sum.half_width += e.half_width;
    variance += e.u * e.u;
  }
  sum.u = std::sqrt(variance);
  return sum;
}

} // namespace leastwall
