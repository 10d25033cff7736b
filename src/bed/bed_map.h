// Readings at places of the bed (or of a board) and the surface between them.
//
// Places and heights are mm, height up positive, in the frame the readings were taken in. Between
// readings the surface is bilinear in the cells of a grid and linear on Delaunay triangles
// otherwise; it is never continued beyond the readings. A reading that is missing inside a grid is
// bridged by the triangles of its neighbours. Immutable and safe to read from any thread.
#pragma once

#include "space/vec3.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <utility>
#include <vector>

namespace leastwall {

class Triangulation; // bed/triangulation.h

class BedMap {
 public:
  /// A grid: strictly rising `x_mm` and `y_mm`, and heights row by row, `heights[j * nx + i]` at
  /// (x_mm[i], y_mm[j]); absent where nothing was read. Throws InputError when the sizes do not
  /// fit, the places do not rise, a number is not finite, or no height is given.
  static BedMap grid(std::vector<double> x_mm, std::vector<double> y_mm,
                     std::span<const std::optional<double>> heights_mm);

  /// Readings (x, y, height) anywhere. Readings closer together than 1e-7 of the extent count as
  /// one place with their mean height. Throws InputError when there are none or one is not finite.
  static BedMap scattered(std::span<const Vec3> readings);

  /// A grid where the places fill one (at least half of the crossings of at least two rows and two
  /// columns were read, each once), scattered otherwise. Places within `same_place_mm` of a row
  /// or column belong to it.
  static BedMap from_readings(std::span<const Vec3> readings, double same_place_mm = 1e-3);

  /// Height of the surface at (x, y); absent outside the readings. Readings along one line give
  /// heights on that line only.
  std::optional<double> height_mm(double x_mm, double y_mm) const;

  /// height_mm as a weighted sum of readings: the weights add up to 1. Returns how many of `out`
  /// are used, 0 outside the readings.
  struct Weight {
    std::uint32_t reading = 0; ///< number in points()
    double weight = 0;
  };
  using Weights = std::array<Weight, 4>;
  std::size_t weights_at(double x_mm, double y_mm, Weights& out) const;

  /// How far (x, y) lies outside the area the readings span (their convex hull); 0 inside.
  double distance_outside_mm(double x_mm, double y_mm) const;

  /// Every place that was read, once: x, y, height. Grid order row by row, else by y, then x.
  const std::vector<Vec3>& points() const { return points_; }
  /// The lowest and the highest reading; the first in the order of points() where several tie.
  const Vec3& lowest() const { return points_[lowest_]; }
  const Vec3& highest() const { return points_[highest_]; }
  std::uint32_t lowest_reading() const { return static_cast<std::uint32_t>(lowest_); }
  std::uint32_t highest_reading() const { return static_cast<std::uint32_t>(highest_); }

  bool is_grid() const { return !x_.empty(); }
  const std::vector<double>& grid_x_mm() const { return x_; } ///< empty when scattered
  const std::vector<double>& grid_y_mm() const { return y_; }
  std::size_t missing() const { return missing_; } ///< crossings of the grid without a reading

  /// The edges, each once, of the triangles between readings; none for a full grid and where there
  /// are no triangles. Where a cell of the grid is whole the surface is bilinear, not on these.
  std::vector<std::array<Vec3, 2>> triangle_edges() const;

  /// The convex hull of the readings, counter-clockwise, x and y (z is the height there). Two
  /// points when all lie on one line, one when there is one place.
  const std::vector<Vec3>& outline() const { return outline_; }

 private:
  BedMap() = default;
  void finish();
  /// Of readings on one line, or in one place.
  struct OnLine {
    std::uint32_t lower = 0, upper = 0; ///< readings next to the place
    double share = 0;                   ///< of the way from the lower one
  };
  /// Absent off the line.
  std::optional<OnLine> on_line(double x, double y) const;

  std::vector<Vec3> points_;
  std::vector<double> x_, y_, grid_heights_; // NaN where missing
  std::vector<std::uint32_t> grid_points_;   // number in points_, where read
  std::vector<Vec3> outline_;
  /// Of readings on a line: how far along it, 0..1, and the number, in that order.
  std::vector<std::pair<double, std::uint32_t>> line_;
  std::shared_ptr<const Triangulation> triangles_; // null for a full grid and for a line
  std::size_t lowest_ = 0, highest_ = 0, missing_ = 0;
};

} // namespace leastwall
