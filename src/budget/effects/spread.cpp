#include "budget/effects/spread.h"

#include "base/maths/erfc.h"
#include "base/maths/exp_log.h"
#include "base/maths/hypot.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leastwall {
namespace {

double square(double value) {
  return value * value;
}

// The floor is min(finish, rough): e = min(0, x) with x = allowance + r - f, r the roughing bit's
// error and f the sum of the finishing bit's. At the very worst the floor is at
// min(-f_limit, allowance - r_limit); the finishing causes account for f_limit already, so what is
// added is max(0, r_limit - allowance - f_limit). The spread takes x as normal with mean m =
// allowance and variance v = u_r^2 + u_f^2; then E[min(0,x)^2] = (m^2 + v) Phi(-m/s) - m s phi(m/s)
// (about zero, so that the small mean counts as spread). c < 0 would make the wall thicker.
Effect overcut_effect(std::span<const Cause> causes, std::size_t k, double c) {
  const Cause& rough = causes[k];
  const double allowance = rough.overcut->allowance_mm;
  double f_limit = 0, v = square(rough.distribution.u(rough.size));
  for (const std::size_t i : rough.overcut->finishing) {
    f_limit += causes[i].distribution.half_width(causes[i].size);
    v += square(causes[i].distribution.u(causes[i].size));
  }
  Effect effect;
  effect.half_width = std::max(0.0, c) * std::max(0.0, rough.distribution.half_width(rough.size) -
                                                           allowance - f_limit);
  if (v > 0) {
    const double s = std::sqrt(v), z = allowance / s;
    const double density = maths::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi);
    const double tail = maths::erfc(z / std::numbers::sqrt2) / 2;
    effect.u = std::abs(c) * s * std::sqrt(std::max(0.0, (z * z + 1) * tail - z * density));
  }
  return effect;
}

} // namespace

Effect effect_of(std::span<const Cause> causes, std::size_t k, double c, double c2) {
  const Cause& cause = causes[k];
  if (cause.overcut)
    return overcut_effect(causes, k, c);
  const Distribution d = cause.distribution;
  if (cause.field) // c adds up the limits of its errors, c2 their squares
    return {0, d.half_width(std::abs(c) * cause.size), d.u(c2 * cause.size)};
  const double scale = d == Distribution::disc ? maths::hypot(c, c2) : std::abs(c);
  return {c * d.middle(cause.size), d.half_width(scale * cause.size), d.u(scale * cause.size)};
}

void effects_at(std::span<const Cause> causes, const WallSample& p, std::span<Effect> out) {
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

Limits::At Limits::at(const WallSample& p) const {
  At sum;
  for (std::size_t k = 0; k < causes_.size(); ++k) {
    const Cause& cause = causes_[k];
    const double c = cause.sensitivity(p);
    sum.shift += scales_[k].shift * c;
    sum.half_width += scales_[k].half_width * (cause.overcut ? std::max(0.0, c)
                                               : cause.distribution == Distribution::disc
                                                   ? maths::hypot(c, cause.sensitivity_2(p))
                                                   : std::abs(c));
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
