// What one error with a stated distribution can do to the wall: limits, middle and spread.
#pragma once

#include "causes/model/cause.h"

#include <cstddef>
#include <span>
#include <vector>

namespace leastwall {

/// Effect of one cause on the wall at one place, mm.
struct Effect {
  double shift = 0;      ///< known part, signed: the wall is expected to change by this
  double half_width = 0; ///< >= 0: at worst the wall is thinner by this on top of `shift`
  double u = 0;          ///< standard uncertainty of the wall from this cause
};

/// `causes[k]` with sensitivities c (and c2 for a disc): the middle counts by c, half-width and u
/// of its distribution by |c|, by |(c1, c2)| for a disc; for a field half-width by c = sum |c_i|
/// and u by c2 = sqrt(sum c_i^2); what a roughing bit overcuts: see overcut_effect in spread.cpp.
Effect effect_of(std::span<const Cause> causes, std::size_t k, double c, double c2);

/// The effects of all causes at one place; `out` has causes.size() slots.
void effects_at(std::span<const Cause> causes, const WallSample& p, std::span<Effect> out);

/// Middle and limits of all causes together, for very many places: what sum_of() finds, without the
/// spread. Keeps a reference to `causes`.
class Limits {
 public:
  explicit Limits(std::span<const Cause> causes);

  struct At {
    double shift = 0, half_width = 0; ///< as in Effect
  };
  At at(const WallSample& p) const;

 private:
  struct Scale {
    double shift = 0;      ///< by c
    double half_width = 0; ///< by |c|; by c where that is positive, for an overcut
  };
  std::span<const Cause> causes_;
  std::vector<Scale> scales_;
};

/// Sums over causes: shift and half-width linearly, u as root-sum-square (GUM 5.1.2).
Effect sum_of(std::span<const Effect> effects);

} // namespace leastwall
