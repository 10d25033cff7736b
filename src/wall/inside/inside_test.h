// Is a point in the air that a cut leaves? Decides the sign of the wall.
//
// A body (closed, or closed but for cracks) is asked for its winding number: signed crossings along
// z plus, where it has a boundary, the boundary's share (generalised winding number, Jacobson,
// Kavan and Sorkine-Hornung 2013; crossings with a boundary sum as in Martens, Trettner and
// Bessmeltsev 2026, arXiv 2605.01536). Where the boundary is long its sum is too much work for each
// point: the holes are then closed, and crossings alone are counted. An open sheet has no inside;
// there the cut itself decides: the pocket's cutter comes from above, so what has pocket floor
// below it is air; the skin's comes from below, so what has skin above it is air. The orientation
// of facets does not matter.
#pragma once

#include "mesh/mesh.h"
#include "spatial/vertical_ray_grid.h"

#include <memory>
#include <string>
#include <vector>

namespace leastwall {

enum class CutFrom { above, below }; ///< pocket: above (side A); skin: below (side B)

enum class InsideMethod { body, cracked_body, closed_holes, crossings_only, parity, sheet };

class InsideTest {
 public:
  /// `columns` (of `mesh`) must outlive this. Facets should be oriented. `sound`: the
  /// mesh is known to be a closed body whose facets agree (MeshFindings::sound).
  InsideTest(const TriMesh& mesh, const VerticalRayGrid& columns, CutFrom cut, bool sound = false);

  struct Answer {
    bool air = false;
    bool ambiguous = false; ///< winding number far from whole
  };
  Answer ask(Vec3 p) const;
  /// For the sheet test: columns of the machined facets alone, so that the lid of a body with a
  /// large hole is not taken for skin or floor. Must outlive this.
  void use_machined(const VerticalRayGrid& machined) { machined_ = &machined; }

  InsideMethod test() const { return test_; }
  /// True where the answer can change only across the surface, never beside its rim.
  bool changes_only_at_surface() const {
    return test_ == InsideMethod::body || test_ == InsideMethod::parity;
  }
  std::string words() const; ///< which rule, one sentence

 private:
  struct Closing {
    TriMesh mesh;
    VerticalRayGrid columns;
    explicit Closing(TriMesh m) : mesh(std::move(m)), columns(mesh) {}
  };

  double winding(Vec3 p) const;
  double boundary_share(Vec3 p) const;
  InsideMethod test_of_open_body(const TriMesh& mesh,
                                 const std::vector<std::array<std::uint32_t, 2>>& edges);

  const VerticalRayGrid& columns_;
  const VerticalRayGrid* machined_ = nullptr;
  CutFrom cut_;
  InsideMethod test_ = InsideMethod::sheet;
  std::vector<std::array<Vec3, 2>> boundary_; ///< directed as in their facets
  std::shared_ptr<const Closing> closing_;    ///< cones over the holes
};

} // namespace leastwall
