// Where vertical lines (along z) pass through a surface: the view a 3-axis cutter has of it.
//
// Edges are decided consistently (a line through an edge or a corner counts as passing on one
// definite side, the same for all facets around it), so that a watertight mesh never leaks and
// nothing is counted twice. Facets that stand exactly upright are never crossed.
#pragma once

#include "base/uninitialized_vector.h"
#include "mesh/mesh.h"
#include "spatial/triangle_tree.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace leastwall {

struct ColumnCounts {
  int below = 0;        ///< facets crossed below the point
  int above = 0;        ///< facets crossed above
  int signed_below = 0; ///< +1 for each facet that looks down, -1 for each that looks up, below
};

class VerticalRayGrid {
 public:
  /// Keeps a reference to `mesh`, which must outlive this.
  explicit VerticalRayGrid(const TriMesh& mesh);

  /// Of the mesh, mm.
  const Box& box() const { return box_; }

  /// Crossings of the vertical line through `p`, by height against p.z.
  ColumnCounts count(Vec3 p) const;
  /// Lowest / highest crossing of the line at x, y; absent where it misses.
  std::optional<double> lowest(double x, double y) const;
  std::optional<double> highest(double x, double y) const;

 private:
  template <class Visit> void visit(double x, double y, const Visit& visit) const;
  /// Of the grid's cells: never falling in x or y, so that a facet's cells hold all its points.
  std::size_t column(double x) const;
  std::size_t row(double y) const;
  /// Cells of the grid that a facet's box covers, both ends inclusive.
  struct Cells {
    std::size_t first_row, last_row, first_column, last_column;
    std::size_t count() const {
      return (last_row - first_row + 1) * (last_column - first_column + 1);
    }
    template <class Body> void each(std::size_t nx, const Body& body) const {
      for (std::size_t r = first_row; r <= last_row; ++r)
        for (std::size_t c = first_column; c <= last_column; ++c)
          body(r * nx + c);
    }
  };
  Cells cells_of(const Tri& t) const;
  /// Can a grid of equal cells tell the facets apart? Sets start_ when it can.
  bool lay_grid();

  const TriMesh& mesh_;
  Box box_;
  double cells_per_mm_ = 1;
  std::size_t nx_ = 1, ny_ = 1;
  std::vector<std::uint32_t> start_; ///< first entry per grid cell, row-major in y
  UninitializedVector<std::uint32_t> entries_;
  std::optional<TriangleTree> tree_; ///< over the facets in plan, instead of the grid
};

} // namespace leastwall
