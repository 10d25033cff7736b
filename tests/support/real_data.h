// Real surfaces from Debian packages, read where the package put them; nothing is copied into the
// repo. Without the package the test fails and says what to install (scripts/test.sh does it).
#pragma once

#include "mesh/mesh.h"

#include <string>
#include <vector>

namespace leastwall::test {

/// Elevations in metres, row by row: the Jacksboro fault in Tennessee, an example of matplotlib
/// (package python-matplotlib-data).
struct Elevations {
  std::size_t rows = 0, columns = 0;
  std::vector<double> metres;
  double at(std::size_t row, std::size_t column) const { return metres[row * columns + column]; }
};
Elevations fault_elevations();

/// A closed body among the example meshes of CGAL (package libcgal-demo), by its name without
/// `.off`, scaled so that its longest side is `longest_mm`, in the middle of the frame.
TriMesh example_body(const std::string& name, double longest_mm);

/// The part below z = top, closed with a lid in that plane. No corner may lie in the plane.
TriMesh lower_half(const TriMesh& body, double top);

/// A smooth copy of a closed body whose surface lies about `depth_mm` inside of it: the level of a
/// grid of distances (CGAL) with this step, by marching tetrahedra (Doi and Koide 1991), smoothed.
TriMesh eroded(const TriMesh& body, double depth_mm, double step_mm);

} // namespace leastwall::test
