#include "wall/surface/machined_surface.h"

#include "base/work_count.h"
#include "mesh/edge_key.h"
#include "mesh/facet_area.h"
#include "spatial/search_bounds.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <unordered_map>

namespace leastwall {
namespace {

bool flat_at(const TriMesh& m, const Tri& t, double z, double tolerance) {
  return std::all_of(t.begin(), t.end(),
                     [&](std::uint32_t v) { return std::abs(m.vertices[v].z - z) <= tolerance; });
}

/// Whether facets on the plane z have more of the mesh below them.
bool has_lid(const TriMesh& m, const VerticalRayGrid& columns, double z, double tolerance) {
  if (columns.box().low.z >= z - 2 * tolerance)
    return false; // there is nothing below
  const std::uint64_t before = steps_of_thread, most = max_steps(m.triangles.size());
  return std::any_of(m.triangles.begin(), m.triangles.end(), [&](const Tri& t) {
    if (!flat_at(m, t, z, tolerance) || !(facet_area(m, t) > 0))
      return false;
    Vec3 middle = (m.vertices[t[0]] + m.vertices[t[1]] + m.vertices[t[2]]) / 3.0;
    middle.z = z - 2 * tolerance;
    if (steps_of_thread - before > most)
      throw_too_tangled();
    return columns.count(middle).below > 0;
  });
}

/// Cuts facets at z = top, keeping what is below; new corners are shared along cut edges.
class Cutter {
 public:
  Cutter(const TriMesh& from, double top)
      : from_(from), top_(top), kept_(from.vertices.size(), kNone) {
    out_.vertices.reserve(from.vertices.size());
    out_.triangles.reserve(from.triangles.size());
  }

  void add(const Tri& t) {
    const bool over[3] = {above(t[0]), above(t[1]), above(t[2])};
    const int count = over[0] + over[1] + over[2];
    if (count == 0) {
      out_.triangles.push_back({keep(t[0]), keep(t[1]), keep(t[2])});
      return;
    }
    left_out_mm2_ += facet_area(from_, t);
    if (count == 3)
      return;
    // Turn so that corner 0 is the odd one out.
    std::size_t odd = 0;
    for (std::size_t i = 0; i < 3; ++i)
      if (over[i] == (count == 1))
        odd = i;
    const std::uint32_t a = t[odd], b = t[(odd + 1) % 3], c = t[(odd + 2) % 3];
    const std::uint32_t ab = cut(a, b), ac = cut(a, c);
    if (count == 2) {
      push({keep(a), ab, ac});
    } else {
      push({ab, keep(b), keep(c)});
      push({ab, keep(c), ac});
    }
  }
  /// Counts a facet as left out.
  void leave_out(const Tri& t) { left_out_mm2_ += facet_area(from_, t); }
  MachinedSurface take() { return {std::move(out_), std::max(0.0, left_out_mm2_)}; }

 private:
  static constexpr std::uint32_t kNone = 0xffffffff;

  bool above(std::uint32_t v) const { return from_.vertices[v].z > top_; }
  void push(const Tri& t) {
    if (t[0] == t[1] || t[1] == t[2] || t[0] == t[2])
      return;
    out_.triangles.push_back(t);
    left_out_mm2_ -= facet_area(out_, t);
  }
  std::uint32_t keep(std::uint32_t v) {
    if (kept_[v] == kNone) {
      kept_[v] = static_cast<std::uint32_t>(out_.vertices.size());
      out_.vertices.push_back(from_.vertices[v]);
    }
    return kept_[v];
  }
  std::uint32_t cut(std::uint32_t a, std::uint32_t b) {
    const auto [it, fresh] =
        cuts_.try_emplace(edge_key(a, b), static_cast<std::uint32_t>(out_.vertices.size()));
    if (fresh) {
      const Vec3 p = from_.vertices[std::min(a, b)], q = from_.vertices[std::max(a, b)];
      Vec3 x = p + (q - p) * ((top_ - p.z) / (q.z - p.z));
      x.z = top_;
      out_.vertices.push_back(x);
    }
    return it->second;
  }

  const TriMesh& from_;
  double top_;
  TriMesh out_;
  double left_out_mm2_ = 0;
  std::vector<std::uint32_t> kept_;
  std::unordered_map<std::uint64_t, std::uint32_t> cuts_;
};

} // namespace

double plane_tolerance_mm(const Box& box) {
  const double reach = std::max({std::abs(box.low.x), std::abs(box.low.y), std::abs(box.low.z),
                                 std::abs(box.high.x), std::abs(box.high.y), std::abs(box.high.z)});
  return std::max(1e-3, 2.5e-7 * reach);
}

PocketFace find_pocket_face(const TriMesh& pocket, const VerticalRayGrid& pocket_columns,
                            const TriMesh& skin, const VerticalRayGrid& skin_columns) {
  const Box &pocket_box = pocket_columns.box(), &skin_box = skin_columns.box();
  const double tolerance = std::max(plane_tolerance_mm(pocket_box), plane_tolerance_mm(skin_box));
  const double skin_top = skin_box.high.z, pocket_top = pocket_box.high.z;
  const bool skin_lid = has_lid(skin, skin_columns, skin_top, tolerance);
  if (skin_lid && pocket_top >= skin_top - tolerance && pocket_box.low.z < skin_top - tolerance)
    return {skin_top, true,
            fmt::format("The pocket face is taken at z = {:.3f} mm, the flat on top of the skin; "
                        "facets on it are not wall.",
                        skin_top),
            true};
  if (!skin_lid && has_lid(pocket, pocket_columns, pocket_top, tolerance))
    return {pocket_top, true,
            fmt::format("The pocket face is taken at z = {:.3f} mm, the lid of the pocket; the lid "
                        "is not wall.",
                        pocket_top)};
  const double top = std::max(skin_top, pocket_top);
  return {top, false,
          fmt::format("The pocket face is taken at z = {:.3f} mm, the highest point; every facet "
                      "counts as wall.",
                      top)};
}

TriMesh below_plane(const TriMesh& mesh, double top) {
  Cutter cutter(mesh, top);
  for (const Tri& t : mesh.triangles)
    cutter.add(t);
  return cutter.take().mesh;
}

TriMesh above_plane(TriMesh mesh, double bottom) {
  const auto turn_over = [](TriMesh& m) {
    for (Vec3& v : m.vertices)
      v.z = -v.z;
  };
  turn_over(mesh);
  TriMesh above = below_plane(mesh, -bottom);
  turn_over(above);
  return above;
}

MachinedSurface machined_surface(const TriMesh& mesh, const PocketFace& face) {
  const double tolerance = plane_tolerance_mm(mesh.box());
  Cutter cutter(mesh,
                face.opens ? face.top_z_mm + tolerance : std::numeric_limits<double>::infinity());
  for (const Tri& t : mesh.triangles) {
    if (face.opens && flat_at(mesh, t, face.top_z_mm, tolerance))
      cutter.leave_out(t);
    else
      cutter.add(t);
  }
  return cutter.take();
}

} // namespace leastwall
