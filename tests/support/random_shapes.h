// Random surfaces for comparisons: the same seed gives the same surface with one C++ library.
#pragma once

#include "support/shapes.h"

#include <cmath>
#include <numbers>
#include <random>

namespace leastwall::shapes {

/// Smooth random heights, at most `height_mm` to either side of zero, waves down to `size_mm` / 6.
class Bumps {
 public:
  Bumps(unsigned seed, double height_mm, double size_mm) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> in(0, 1);
    for (Wave& w : waves_) {
      const double turn = 2 * std::numbers::pi * in(random);
      const double per_mm = 2 * std::numbers::pi * (1 + 5 * in(random)) / size_mm;
      w = {per_mm * std::cos(turn), per_mm * std::sin(turn), 2 * std::numbers::pi * in(random),
           height_mm / kWaves};
    }
  }
  double operator()(double x, double y) const {
    double z = 0;
    for (const Wave& w : waves_)
      z += w.height * std::sin(w.kx * x + w.ky * y + w.phase);
    return z;
  }

 private:
  static constexpr int kWaves = 6;
  struct Wave {
    double kx, ky, phase, height;
  };
  Wave waves_[kWaves];
};

/// Square open sheet around the origin, `side_mm` long, `cells` along an edge, at height z + bumps.
inline TriMesh bumpy_sheet(unsigned seed, double side_mm, int cells, double z, double height_mm) {
  const Bumps bumps(seed, height_mm, side_mm);
  const double h = side_mm / 2;
  return sheet({-h, h}, {-h, h}, cells, cells, [&](double x, double y) { return z + bumps(x, y); });
}

/// Closed body around the origin: a sphere whose corners are moved out by random bumps.
inline TriMesh bumpy_ball(unsigned seed, double radius_mm, double height_mm, int slices) {
  TriMesh ball = sphere({}, radius_mm, slices, slices / 2);
  const Bumps front(seed, height_mm / 2, 2 * radius_mm), side(seed + 77, height_mm / 2, radius_mm);
  for (Vec3& v : ball.vertices)
    v += unit(v) * (front(v.x, v.y) + side(v.y, v.z));
  return ball;
}

} // namespace leastwall::shapes
