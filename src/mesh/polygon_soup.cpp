#include "mesh/polygon_soup.h"

#include "base/file/refuse_file.h"
#include "mesh/nonfinite_vertices.h"
#include "mesh/triangulate_polygon.h"
#include "mesh/weld_mesh.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

void check_numbers(const std::filesystem::path& file, const PolygonSoup& soup) {
  NonfiniteVertices bad;
  for (std::size_t v = 0; v < soup.vertices.size(); ++v)
    if (!is_finite(soup.vertices[v]))
      bad.add(v + 1);
  bad.refuse_any(file, "vertex");
  std::size_t at = 0;
  for (std::size_t f = 0; f < soup.sizes.size(); ++f)
    for (std::uint32_t k = 0; k < soup.sizes[f]; ++k, ++at)
      if (soup.corners[at] >= soup.vertices.size())
        refuse_file(file,
                    fmt::format("face {} names vertex {} of {} (counted from 0)", f + 1,
                                soup.corners[at], soup.vertices.size()),
                    "export the mesh again");
}

struct CutTally {
  std::size_t too_few = 0, bent = 0, crossed = 0;
  double max_bent = 0;
};

void describe(const CutTally& tally, FileMesh& read) {
  if (tally.too_few > 0)
    read.notices.push_back(
        {"points-or-lines", fmt::format("{} faces with fewer than three corners (points or lines) "
                                        "were left out.",
                                        tally.too_few)});
  if (tally.crossed > 0)
    read.notices.push_back({"crossed-polygons",
                            fmt::format("{} faces with four corners cross themselves and were cut "
                                        "along their shorter diagonal. Triangulate in the modeller "
                                        "to be sure of the surface.",
                                        tally.crossed)});
  if (tally.bent > 0)
    read.notices.push_back(
        {"bent-polygons", fmt::format("{} faces are not flat (up to {:.3g} of the file's unit "
                                      "out of plane) and were cut into triangles here. Triangulate "
                                      "in the modeller to be sure of the surface.",
                                      tally.bent, tally.max_bent)});
}

} // namespace

void take_polygons(const std::filesystem::path& file, PolygonSoup soup, FileMesh& read) {
  constexpr double kFlat = 1e-4; // of the face's size
  check_numbers(file, soup);
  if (soup.corners.size() > 0xffffffffu / 3)
    refuse_file(file, fmt::format("{} face corners are too many", soup.corners.size()),
                "decimate the mesh");
  CutTally tally;
  std::vector<Vec3> points;
  std::vector<Tri> cut;
  read.mesh.triangles.reserve(soup.sizes.size());
  std::size_t at = 0;
  for (std::size_t f = 0; f < soup.sizes.size(); ++f) {
    const std::uint32_t n = soup.sizes[f];
    const std::uint32_t* corner = soup.corners.data() + at;
    at += n;
    if (n < 3) {
      ++tally.too_few;
      continue;
    }
    if (n == 3) {
      read.mesh.triangles.push_back({corner[0], corner[1], corner[2]});
      continue;
    }
    if (n > kMaxPolygonCorners)
      refuse_file(file, fmt::format("face {} has {} corners", f + 1, n),
                  "triangulate the mesh in the modeller");
    points.clear();
    cut.clear();
    for (std::uint32_t k = 0; k < n; ++k)
      points.push_back(soup.vertices[corner[k]]);
    const PolygonCut result = triangulate_polygon(points, cut);
    if (!result.ok && n == 4)
      ++tally.crossed;
    else if (!result.ok)
      refuse_file(file, fmt::format("face {} with {} corners crosses itself", f + 1, n),
                  "triangulate the mesh in the modeller");
    if (result.bent > kFlat * result.across) {
      ++tally.bent;
      tally.max_bent = std::max(tally.max_bent, result.bent);
    }
    for (const Tri& t : cut)
      read.mesh.triangles.push_back({corner[t[0]], corner[t[1]], corner[t[2]]});
  }
  if (read.mesh.triangles.empty())
    refuse_file(file,
                tally.too_few > 0 ? fmt::format("{} holds only points or lines", read.format)
                                  : fmt::format("{} without facets", read.format),
                "export the surface as a mesh of triangles");
  soup.corners = {};
  soup.sizes = {};
  describe(tally, read);
  read.mesh.vertices = std::move(soup.vertices);
  read.collapsed = weld_mesh(read.mesh);
}

} // namespace leastwall
