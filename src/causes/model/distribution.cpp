#include "causes/model/distribution.h"

#include "base/maths/angles.h"
#include "base/maths/exp_log.h"

#include <cmath>
#include <numbers>

namespace leastwall {

double normal_draw(double u1, double u2) {
  return std::sqrt(-2 * maths::log(u1)) * maths::cos(2 * std::numbers::pi * u2);
}

double Distribution::middle(double size) const {
  return shape_ == shift ? size : shape_ == half_uniform ? size / 2 : 0.0;
}

double Distribution::half_width(double size) const {
  switch (shape_) {
  case shift:
    return 0;
  case rectangle:
  case disc:
    return size;
  case normal:
    return kNormalLimit * size;
  case half_uniform:
    return size / 2;
  }
  return 0;
}

double Distribution::u(double size) const {
  switch (shape_) {
  case shift:
    return 0;
  case rectangle:
    return size / std::sqrt(3.0);
  case normal:
    return size;
  case half_uniform:
    return size / std::sqrt(12.0);
  case disc: // a coordinate of a point anywhere in a disc has the variance r^2 / 4
    return size / 2;
  }
  return 0;
}

double Distribution::unit_draw(double u1, double u2, bool second) const {
  switch (shape_) {
  case shift:
    return 1;
  case rectangle:
    return 2 * u1 - 1;
  case normal:
    return normal_draw(u1, u2);
  case half_uniform:
    return u1;
  case disc: {
    const double angle = 2 * std::numbers::pi * u2;
    return std::sqrt(u1) * (second ? maths::sin(angle) : maths::cos(angle));
  }
  }
  return 0;
}

double Distribution::largest_draw() const {
  return shape_ == normal ? kLargestNormalDraw : 1.0;
}

const char* Distribution::key() const {
  switch (shape_) {
  case shift:
    return "shift";
  case rectangle:
    return "rectangle";
  case normal:
    return "normal";
  case half_uniform:
    return "half-uniform";
  case disc:
    return "disc";
  }
  return "";
}

} // namespace leastwall
