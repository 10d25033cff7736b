// Delaunay triangles of points in the plane, and which of them covers a place.
//
// Incremental insertion (Bowyer 1981, Watson 1981) with a vertex at infinity. Points are snapped
// to 2^-26 of their extent and every decision is made exactly in whole numbers, so degenerate
// input (grids, points on a line or circle) is safe; the answer depends on the points only.
#pragma once

#include "space/vec3.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace leastwall {

class Triangulation {
 public:
  /// Triangulates (x, y) of `points`; z is carried along as the height. No triangles come out when
  /// all points lie on one line. Of points that snap to one place only the first is used.
  explicit Triangulation(std::span<const Vec3> points);

  /// Corner numbers of the triangles, counter-clockwise.
  const std::vector<std::array<std::uint32_t, 3>>& triangles() const { return triangles_; }

  /// The triangle that covers (x, y), and the place in it: the weights of its second and third
  /// corner; the first has the rest. Absent outside.
  struct Cover {
    std::array<std::uint32_t, 3> corners;
    double weight_1 = 0, weight_2 = 0;
  };
  std::optional<Cover> cover(double x, double y) const;

  /// The height on the triangle that covers (x, y), linear in it; absent outside.
  std::optional<double> height(double x, double y) const;

 private:
  void index();

  std::vector<Vec3> points_;
  std::vector<std::array<std::uint32_t, 3>> triangles_;
  // Square cells over the extent; cell c lists the triangles whose box meets it.
  double low_x_ = 0, low_y_ = 0, cell_ = 1, tolerance_ = 0;
  std::size_t columns_ = 0, rows_ = 0;
  std::vector<std::uint32_t> first_, listed_;
};

} // namespace leastwall
