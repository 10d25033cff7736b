#include "support/real_data.h"

#include "mesh/syntax/zip_entry.h"
#include "peers/reference_library.h"
#include "support/run_program.h"

#include <algorithm>
#include <array>
#include <cstring>
#include <doctest/doctest.h>
#include <map>
#include <regex>
#include <sstream>

namespace leastwall::test {
namespace {

void require_package(const std::filesystem::path& file, const char* package) {
  if (!std::filesystem::exists(file))
    FAIL(file.string() << " is missing: install Debian's package " << package
                       << " (scripts/test.sh does)");
}

using Edge = std::pair<std::uint32_t, std::uint32_t>;

std::uint32_t index(std::size_t i) {
  return static_cast<std::uint32_t>(i);
}

} // namespace

Elevations fault_elevations() {
  const std::filesystem::path file =
      "/usr/share/matplotlib/mpl-data/sample_data/jacksboro_fault_dem.npz";
  require_package(file, "python-matplotlib-data");
  // NumPy's format 1.0 (NEP 1): magic, version, length of the header, header, numbers.
  std::string npy;
  REQUIRE(read_zip_entry(MappedFile(file), "elevation.npy",
                         [&](std::string_view piece) { npy += piece; }));
  REQUIRE(npy.substr(0, 6) == "\x93NUMPY");
  const std::size_t length =
      static_cast<unsigned char>(npy[8]) + 256u * static_cast<unsigned char>(npy[9]);
  const std::string header = npy.substr(10, length);
  REQUIRE(header.find("'<i2'") != header.npos);
  REQUIRE(header.find("'fortran_order': False") != header.npos);
  std::smatch shape;
  REQUIRE(std::regex_search(header, shape, std::regex("\\((\\d+), (\\d+)\\)")));
  Elevations e;
  e.rows = std::stoul(shape[1]);
  e.columns = std::stoul(shape[2]);
  REQUIRE(npy.size() == 10 + length + 2 * e.rows * e.columns);
  for (std::size_t i = 0; i < e.rows * e.columns; ++i) {
    std::int16_t metres;
    std::memcpy(&metres, npy.data() + 10 + length + 2 * i, 2);
    e.metres.push_back(metres);
  }
  return e;
}

TriMesh example_body(const std::string& name, double longest_mm) {
  const std::filesystem::path archive = "/usr/share/doc/libcgal-dev/data.tar.gz";
  require_package(archive, "libcgal-demo");
  // Not into a file: several tests may run at once.
  const RunResult unpacked =
      run_program({"tar", "-xOzf", archive.string(), "data/meshes/" + name + ".off"});
  REQUIRE(unpacked.status == 0);
  // OFF: counts of corners and facets, corners, facets.
  std::istringstream in(unpacked.out);
  std::string word;
  std::size_t corners = 0, facets = 0, edges = 0;
  in >> word >> corners >> facets >> edges;
  REQUIRE(word == "OFF");
  TriMesh m;
  m.vertices.resize(corners);
  m.triangles.resize(facets);
  for (Vec3& v : m.vertices)
    in >> v.x >> v.y >> v.z;
  for (Tri& t : m.triangles) {
    int count = 0;
    in >> count >> t[0] >> t[1] >> t[2];
    REQUIRE(count == 3);
  }
  REQUIRE(!in.fail());
  const Box box = m.box();
  const double scale = longest_mm / std::max({box.size().x, box.size().y, box.size().z});
  const Vec3 middle = (box.low + box.high) * 0.5;
  for (Vec3& v : m.vertices)
    v = (v - middle) * scale;
  return m;
}

TriMesh lower_half(const TriMesh& body, double top) {
  TriMesh out;
  std::map<std::uint32_t, std::uint32_t> kept;
  std::map<Edge, std::uint32_t> cuts;
  const auto above = [&](std::uint32_t v) { return body.vertices[v].z > top; };
  const auto keep = [&](std::uint32_t v) {
    const auto [it, fresh] = kept.try_emplace(v, index(out.vertices.size()));
    if (fresh)
      out.vertices.push_back(body.vertices[v]);
    return it->second;
  };
  const auto cut = [&](std::uint32_t a, std::uint32_t b) {
    const auto [it, fresh] = cuts.try_emplace(std::minmax(a, b), index(out.vertices.size()));
    if (fresh) {
      const Vec3 p = body.vertices[std::min(a, b)], q = body.vertices[std::max(a, b)];
      Vec3 x = p + (q - p) * ((top - p.z) / (q.z - p.z));
      x.z = top;
      out.vertices.push_back(x);
    }
    return it->second;
  };
  std::vector<Edge> lid;
  for (const Tri& t : body.triangles) {
    std::vector<std::uint32_t> ring; // the part below, in order
    std::uint32_t leaves = 0, returns = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      const std::uint32_t a = t[i], b = t[(i + 1) % 3];
      if (!above(a))
        ring.push_back(keep(a));
      if (above(a) != above(b)) {
        ring.push_back(cut(a, b));
        (above(b) ? leaves : returns) = ring.back();
      }
    }
    for (std::size_t i = 2; i < ring.size(); ++i)
      out.triangles.push_back({ring[0], ring[i - 1], ring[i]});
    if (ring.size() > 2 && leaves != returns)
      lid.emplace_back(leaves, returns);
  }
  // All rims are joined to one point of the plane: where these facets overlap they cancel.
  const std::uint32_t hub = index(out.vertices.size());
  out.vertices.push_back({0, 0, top});
  for (const auto& [a, b] : lid)
    out.triangles.push_back({b, a, hub});
  return out;
}

TriMesh eroded(const TriMesh& body, double depth_mm, double step_mm) {
  const peers::PointDistance ask(body);
  const Box box = body.box();
  const auto cells = [&](double size) { return static_cast<std::size_t>(size / step_mm) + 3; };
  const std::size_t nx = cells(box.size().x), ny = cells(box.size().y), nz = cells(box.size().z);
  const Vec3 low = box.low - Vec3{1, 1, 1} * step_mm;
  const auto at = [&](std::size_t id) {
    return low + Vec3{static_cast<double>(id % nx), static_cast<double>(id / nx % ny),
                      static_cast<double>(id / nx / ny)} *
                     step_mm;
  };
  std::vector<double> value(nx * ny * nz); // positive deeper than depth_mm inside the body
  for (std::size_t id = 0; id < value.size(); ++id) {
    const double d = ask(at(id));
    value[id] = (ask.inside(at(id)) ? d : -d) - depth_mm;
  }
  TriMesh out;
  std::map<Edge, std::uint32_t> crossings;
  const auto crossing = [&](std::size_t a, std::size_t b) {
    const auto [it, fresh] =
        crossings.try_emplace(std::minmax(index(a), index(b)), index(out.vertices.size()));
    if (fresh)
      out.vertices.push_back(at(a) + (at(b) - at(a)) * (value[a] / (value[a] - value[b])));
    return it->second;
  };
  const auto tetrahedron = [&](std::array<std::size_t, 4> c) { // corners, positive volume
    std::stable_partition(c.begin(), c.end(), [&](std::size_t id) { return value[id] > 0; });
    const auto inner =
        std::count_if(c.begin(), c.end(), [&](std::size_t id) { return value[id] > 0; });
    std::vector<std::uint32_t> ring;
    if (inner == 1)
      ring = {crossing(c[0], c[1]), crossing(c[0], c[2]), crossing(c[0], c[3])};
    else if (inner == 2)
      ring = {crossing(c[0], c[2]), crossing(c[0], c[3]), crossing(c[1], c[3]),
              crossing(c[1], c[2])};
    else if (inner == 3)
      ring = {crossing(c[3], c[0]), crossing(c[3], c[1]), crossing(c[3], c[2])};
    else
      return;
    const Vec3 a = out.vertices[ring[0]];
    const Vec3 normal = cross(out.vertices[ring[1]] - a, out.vertices[ring[2]] - a);
    if (dot(normal, at(inner == 3 ? c[3] : c[0]) - a) * (inner == 3 ? -1 : 1) > 0)
      std::reverse(ring.begin(), ring.end());
    for (std::size_t i = 2; i < ring.size(); ++i)
      out.triangles.push_back({ring[0], ring[i - 1], ring[i]});
  };
  // Six tetrahedra around the long diagonal of each cell: neighbours cut their faces alike.
  const std::array<std::array<std::size_t, 3>, 6> orders = {
      {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}};
  const std::array<std::size_t, 3> stride = {1, nx, nx * ny};
  for (std::size_t k = 0; k + 1 < nz; ++k)
    for (std::size_t j = 0; j + 1 < ny; ++j)
      for (std::size_t i = 0; i + 1 < nx; ++i) {
        const std::size_t id = (k * ny + j) * nx + i;
        for (const auto& o : orders)
          tetrahedron({id, id + stride[o[0]], id + stride[o[0]] + stride[o[1]],
                       id + stride[0] + stride[1] + stride[2]});
      }
  for (int round = 0; round < 2; ++round) {
    std::vector<Vec3> sum(out.vertices.size());
    std::vector<double> count(out.vertices.size());
    for (const Tri& t : out.triangles)
      for (std::size_t i = 0; i < 3; ++i) {
        sum[t[i]] += out.vertices[t[(i + 1) % 3]];
        count[t[i]] += 1;
      }
    for (std::size_t v = 0; v < out.vertices.size(); ++v)
      out.vertices[v] = (out.vertices[v] + sum[v] / count[v]) * 0.5;
  }
  return out;
}

} // namespace leastwall::test
