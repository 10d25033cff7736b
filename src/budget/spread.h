// What one error with a stated distribution can do to the wall: limits, middle and spread.
#pragma once

#include "setup/cause.h"

#include <cstddef>
#include <span>
#include <vector>

namespace leastwall {

/// Coverage factor that turns a standard uncertainty into the limit the worst case uses.
inline constexpr double kNormalLimit = 2.0;

/// Effect of one cause on the wall at one place, mm.
struct Effect {
  double shift = 0;      ///< known part, signed: the wall is expected to change by this
  double half_width = 0; ///< >= 0: at worst the wall is thinner by this on top of `shift`
  double u = 0;          ///< standard uncertainty of the wall from this cause
};

/// `causes[k]` with sensitivities c (and c2 for a disc):
///   shift      c s                                     no spread
///   rectangle  half-width |c| s, u = |c| s / sqrt 3    (GUM 4.3.7)
///   normal     half-width 2 |c| s, u = |c| s
///   one-sided  0..s has its middle at s/2: shift c s/2, half-width |c| s/2, u = |c| s / sqrt 12
///   disc       half-width s |(c1, c2)|, u = s |(c1, c2)| / 2: a coordinate of a point anywhere in
///              a disc has variance s^2/4
///   a field    the same for c = sum |c_i| and, for u, c2 = sqrt(sum c_i^2) in place of |c|
///   overtaken  see overtaken_effect in spread.cpp
Effect effect_of(std::span<const Cause> causes, std::size_t k, double c, double c2);

/// The effects of all causes at one place; `out` has causes.size() slots.
void effects_at(std::span<const Cause> causes, const CausePoint& p, std::span<Effect> out);

/// Middle and limits of all causes together, for very many places: what sum_of() finds, without the
/// spread. Keeps a reference to `causes`.
class Limits {
 public:
  explicit Limits(std::span<const Cause> causes);

  struct At {
    double shift = 0, half_width = 0; ///< as in Effect
  };
  At at(const CausePoint& p) const;

 private:
  struct Scale {
    double shift = 0;      ///< by c
    double half_width = 0; ///< by |c|; by c where that is positive, for `overtaken`
  };
  std::span<const Cause> causes_;
  std::vector<Scale> scales_;
};

/// Sums over causes: shift and half-width linearly, u as root-sum-square (GUM 5.1.2).
Effect sum_of(std::span<const Effect> effects);

} // namespace leastwall
