// One cause of error and what it does to the wall at each sample.
//
// The wall at sample p is  t(p) + shift(p) + sum_k effect_k(p, e_k):  every cause k has one or two
// scalar errors e_k (two for play of a pin in a hole) shared by the whole piece, and a sensitivity
// c_k(p) for each. Signs: a positive change is a thicker wall.
#pragma once

#include "base/side.h"
#include "geometry/vec3.h"

#include <functional>
#include <optional>
#include <string>

namespace leastwall {

/// A sample as causes see it.
struct CausePoint {
  Vec3 at; ///< on the skin, model space, mm
  Vec3 n;  ///< unit, from the pocket towards the skin
};

enum class Distribution {
  shift,     ///< known: e is exactly `size`
  rectangle, ///< |e| <= size
  normal,    ///< standard uncertainty `size`
  one_sided, ///< 0 <= e <= size, any value as likely
  disc       ///< (e1, e2) anywhere in a disc of radius `size`, any direction
};

struct Cause {
  std::string key;  ///< stable, e.g. "touch-off"
  std::string name; ///< shop words, e.g. "touch-off of side A"
  std::optional<Side> side;
  Distribution distribution = Distribution::rectangle;
  double size_mm = 0;
  /// Change of the wall per mm of e (first scalar).
  std::function<double(const CausePoint&)> sensitivity;
  /// Per mm of the second scalar; set for `disc` only.
  std::function<double(const CausePoint&)> sensitivity_2;
};

} // namespace leastwall
