// Least squares of a few simple shapes over readings, for `bed_shape`.
#pragma once

#include "bed/reading_plan.h"
#include "space/vec3.h"

#include <Eigen/Dense>
#include <optional>
#include <span>
#include <vector>

namespace leastwall {

/// A reading in plan coordinates that run from -1 to 1; `along` and `across` are mm from the middle
/// (along the line of the readings and across it; x and y for an area). `z` is mm over the first.
struct BedSample {
  double u = 0, v = 0, along = 0, across = 0, z = 0;
};

/// One sample a reading, in the same order.
std::vector<BedSample> bed_samples(std::span<const Vec3> readings, const ReadingPlan& plan);

enum class BedTerm { one, u, v, uv, uu, vv };

/// A step: all readings beyond `at_mm` (along, else across) stand higher.
struct BedStepTerm {
  bool along = true;
  double at_mm = 0; ///< as `along` or `across` of a sample

  double value(const BedSample& s) const { return (along ? s.along : s.across) > at_mm ? 1 : 0; }
};

/// The shapes that are fitted together.
struct BedTerms {
  std::vector<BedTerm> smooth;
  std::vector<BedStepTerm> steps;

  std::size_t count() const { return smooth.size() + steps.size(); }
};

struct BedFit {
  BedTerms terms;
  Eigen::VectorXd coefficients; ///< smooth terms, then steps
  Eigen::MatrixXd basis;        ///< orthonormal columns over the samples fitted, one row a sample
  Eigen::VectorXd rest;         ///< what is left over, mm
  double squares = 0;           ///< sum of squares of the rest

  std::optional<double> of(BedTerm term) const;
  double step(std::size_t k) const {
    return coefficients(static_cast<long>(terms.smooth.size() + k));
  }
  double at(const BedSample& s) const; ///< mm
};

/// Absent when the samples cannot tell the terms apart or are fewer than the terms.
std::optional<BedFit> fit_bed(std::span<const BedSample> samples, const BedTerms& terms);

/// A plane (2 axes), a straight line (1), a height (0).
std::vector<BedTerm> plane_terms(int axes);

/// The fullest quadratic that the samples can tell, with these steps; at least their mean.
BedFit fit_quadratic(std::span<const BedSample> samples, int axes,
                     const std::vector<BedStepTerm>& steps);

} // namespace leastwall
