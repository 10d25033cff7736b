// Meshes with known geometry for tests. All closed ones look outwards; mm.
#pragma once

#include "mesh/mesh.h"

#include <array>
#include <functional>
#include <vector>

namespace leastwall::shapes {

/// Sphere of `slices` x `stacks` quads, poles on z; corners lie on the sphere.
TriMesh sphere(Vec3 middle, double radius, int slices, int stacks);
/// Lower half of a sphere as an open sheet: rim at middle.z.
TriMesh bowl(Vec3 middle, double radius, int slices, int stacks);
/// Axis-aligned box of 12 facets.
TriMesh box(Vec3 low, Vec3 high);
/// Torus around z: ring radius, tube radius.
TriMesh torus(Vec3 middle, double ring, double tube, int around, int across);
/// Sheet z(x, y) over a rectangle, nx x ny cells, facets looking up.
TriMesh sheet(std::array<double, 2> x, std::array<double, 2> y, int nx, int ny,
              const std::function<double(double, double)>& z);
/// A closed body, flat at z = 0 on top, z(x, y) below on the lines of a grid.
TriMesh body_below(const std::vector<double>& x, const std::vector<double>& y,
                   const std::function<double(double, double)>& z);
/// A pyramid point down: square base at z = top, tip below.
TriMesh spike(Vec3 tip, double half_width, double top);

TriMesh moved(TriMesh mesh, Vec3 shift);
TriMesh scaled(TriMesh mesh, double factor);
/// Turned about z by `deg`, then about x by `tilt_deg`.
TriMesh turned(TriMesh mesh, double deg, double tilt_deg = 0);
TriMesh flipped_facets(TriMesh mesh);
/// Facets in another order and starting at other corners; `every_other` also turns half of them.
TriMesh shuffled(TriMesh mesh, unsigned seed, bool every_other = false);
/// Each facet split into four at its edge middles.
TriMesh subdivided(const TriMesh& mesh);
TriMesh joined(TriMesh a, const TriMesh& b);

} // namespace leastwall::shapes
