#include "check/hollow/pocket_frame.h"

#include "job/place_mesh.h"
#include "space/affine.h"
#include "space/single.h"

#include <utility>

namespace leastwall {
namespace {

constexpr double kInch_mm = 25.4; // exactly; NIST SP 811, B.8

double scale_of(const MeshPlacing& placing) {
  return placing.units == LengthUnit::inch ? kInch_mm : 1;
}

Affine affine_of(const MeshPlacing& placing) {
  TriMesh axes;
  axes.vertices = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  place_mesh(axes, placing);
  const std::vector<Vec3>& v = axes.vertices;
  // Turned and mirrored before it is shifted: taken without the shift, so that nothing is lost.
  return {v[1] - v[0], v[2] - v[0], v[3] - v[0], v[0]};
}

} // namespace

TriMesh as_written(TriMesh model, const MeshPlacing& placing) {
  MeshPlacing turned = placing;
  turned.shift_mm = {};
  const Affine a = affine_of(turned);
  const double scale = scale_of(placing);
  for (Vec3& v : model.vertices) {
    const Vec3 p = v - placing.shift_mm;
    // Turns and mirrors are undone by the transposed matrix.
    v = in_single(Vec3{dot(a.x, p) / scale, dot(a.y, p) / scale, dot(a.z, p) / scale});
  }
  if (a.determinant() < 0)
    for (Tri& t : model.triangles)
      std::swap(t[1], t[2]);
  return model;
}

std::vector<Vec3> in_file(const std::vector<Vec3>& loaded, const MeshPlacing& placing) {
  const double scale = scale_of(placing);
  std::vector<Vec3> out;
  out.reserve(loaded.size());
  for (const Vec3& v : loaded)
    out.push_back(in_single(v / scale));
  return out;
}

TriMesh as_read(TriMesh written, const MeshPlacing& placing) {
  const double scale = scale_of(placing);
  for (Vec3& v : written.vertices)
    v = v * scale;
  place_mesh(written, placing);
  return written;
}

} // namespace leastwall
