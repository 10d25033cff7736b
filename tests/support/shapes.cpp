#include "support/shapes.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <random>

namespace leastwall::shapes {
namespace {

using std::numbers::pi;

std::uint32_t index(std::size_t i) {
  return static_cast<std::uint32_t>(i);
}

/// Rings from pole to pole (or rim); ring 0 is one corner.
TriMesh rings(Vec3 middle, double radius, int slices, int stacks, double last_angle, bool close) {
  TriMesh m;
  const auto at = [&](double polar, double azimuth) {
    return middle + Vec3{radius * std::sin(polar) * std::cos(azimuth),
                         radius * std::sin(polar) * std::sin(azimuth), -radius * std::cos(polar)};
  };
  m.vertices.push_back(middle - Vec3{0, 0, radius});
  const int full = close ? stacks - 1 : stacks;
  for (int i = 1; i <= full; ++i)
    for (int j = 0; j < slices; ++j)
      m.vertices.push_back(at(last_angle * i / stacks, 2 * pi * j / slices));
  const auto id = [&](int ring, int j) {
    return index(static_cast<std::size_t>(1 + (ring - 1) * slices + (j % slices)));
  };
  for (int j = 0; j < slices; ++j)
    m.triangles.push_back({0, id(1, j + 1), id(1, j)});
  for (int i = 1; i < full; ++i)
    for (int j = 0; j < slices; ++j) {
      m.triangles.push_back({id(i, j), id(i, j + 1), id(i + 1, j + 1)});
      m.triangles.push_back({id(i, j), id(i + 1, j + 1), id(i + 1, j)});
    }
  if (close) {
    m.vertices.push_back(middle + Vec3{0, 0, radius});
    for (int j = 0; j < slices; ++j)
      m.triangles.push_back({index(m.vertices.size() - 1), id(full, j), id(full, j + 1)});
  }
  return m;
}

} // namespace

TriMesh sphere(Vec3 middle, double radius, int slices, int stacks) {
  return rings(middle, radius, slices, stacks, pi, true);
}

TriMesh bowl(Vec3 middle, double radius, int slices, int stacks) {
  return rings(middle, radius, slices, stacks, pi / 2, false);
}

TriMesh box(Vec3 a, Vec3 b) {
  TriMesh m;
  for (int i = 0; i < 8; ++i)
    m.vertices.push_back({i & 1 ? b.x : a.x, i & 2 ? b.y : a.y, i & 4 ? b.z : a.z});
  const int faces[6][4] = {{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4},
                           {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}};
  for (const auto& f : faces) {
    m.triangles.push_back({index(f[0]), index(f[1]), index(f[2])});
    m.triangles.push_back({index(f[0]), index(f[2]), index(f[3])});
  }
  return m;
}

TriMesh torus(Vec3 middle, double ring, double tube, int around, int across) {
  TriMesh m;
  for (int i = 0; i < around; ++i)
    for (int j = 0; j < across; ++j) {
      const double u = 2 * pi * i / around, v = 2 * pi * j / across;
      const double r = ring + tube * std::cos(v);
      m.vertices.push_back(middle + Vec3{r * std::cos(u), r * std::sin(u), tube * std::sin(v)});
    }
  const auto id = [&](int i, int j) {
    return index(static_cast<std::size_t>((i % around) * across + j % across));
  };
  for (int i = 0; i < around; ++i)
    for (int j = 0; j < across; ++j) {
      m.triangles.push_back({id(i, j), id(i + 1, j), id(i + 1, j + 1)});
      m.triangles.push_back({id(i, j), id(i + 1, j + 1), id(i, j + 1)});
    }
  return m;
}

TriMesh sheet(std::array<double, 2> x, std::array<double, 2> y, int nx, int ny,
              const std::function<double(double, double)>& z) {
  TriMesh m;
  for (int j = 0; j <= ny; ++j)
    for (int i = 0; i <= nx; ++i) {
      const double px = x[0] + (x[1] - x[0]) * i / nx, py = y[0] + (y[1] - y[0]) * j / ny;
      m.vertices.push_back({px, py, z(px, py)});
    }
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const auto a = index(static_cast<std::size_t>(j * (nx + 1) + i)), b = a + 1,
                 c = a + index(static_cast<std::size_t>(nx + 1)), d = c + 1;
      m.triangles.push_back({a, b, d});
      m.triangles.push_back({a, d, c});
    }
  return m;
}

TriMesh spike(Vec3 tip, double w, double top) {
  TriMesh m;
  m.vertices = {tip,
                {tip.x - w, tip.y - w, top},
                {tip.x + w, tip.y - w, top},
                {tip.x + w, tip.y + w, top},
                {tip.x - w, tip.y + w, top}};
  m.triangles = {{0, 2, 1}, {0, 3, 2}, {0, 4, 3}, {0, 1, 4}, {1, 2, 3}, {1, 3, 4}};
  return m;
}

TriMesh moved(TriMesh mesh, Vec3 shift) {
  for (Vec3& v : mesh.vertices)
    v += shift;
  return mesh;
}

TriMesh scaled(TriMesh mesh, double factor) {
  for (Vec3& v : mesh.vertices)
    v = v * factor;
  return mesh;
}

TriMesh turned(TriMesh mesh, double deg, double tilt_deg) {
  const double a = deg * pi / 180, t = tilt_deg * pi / 180;
  for (Vec3& v : mesh.vertices) {
    v = {v.x * std::cos(a) - v.y * std::sin(a), v.x * std::sin(a) + v.y * std::cos(a), v.z};
    v = {v.x, v.y * std::cos(t) - v.z * std::sin(t), v.y * std::sin(t) + v.z * std::cos(t)};
  }
  return mesh;
}

TriMesh flipped_facets(TriMesh mesh) {
  for (Tri& t : mesh.triangles)
    std::swap(t[1], t[2]);
  return mesh;
}

TriMesh shuffled(TriMesh mesh, unsigned seed, bool every_other) {
  std::mt19937 random(seed);
  for (std::size_t i = mesh.triangles.size(); i > 1; --i)
    std::swap(mesh.triangles[i - 1], mesh.triangles[random() % i]);
  for (Tri& t : mesh.triangles) {
    std::rotate(t.begin(), t.begin() + static_cast<std::ptrdiff_t>(random() % 3), t.end());
    if (every_other && random() % 2 == 0)
      std::swap(t[0], t[1]);
  }
  return mesh;
}

TriMesh subdivided(const TriMesh& mesh) {
  TriMesh out;
  out.vertices = mesh.vertices;
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> middles;
  const auto middle = [&](std::uint32_t a, std::uint32_t b) {
    const auto [it, fresh] =
        middles.try_emplace({std::min(a, b), std::max(a, b)}, index(out.vertices.size()));
    if (fresh)
      out.vertices.push_back((mesh.vertices[a] + mesh.vertices[b]) * 0.5);
    return it->second;
  };
  for (const Tri& t : mesh.triangles) {
    const std::uint32_t ab = middle(t[0], t[1]), bc = middle(t[1], t[2]), ca = middle(t[2], t[0]);
    out.triangles.insert(out.triangles.end(),
                         {{t[0], ab, ca}, {ab, t[1], bc}, {ca, bc, t[2]}, {ab, bc, ca}});
  }
  return out;
}

TriMesh joined(TriMesh a, const TriMesh& b) {
  const auto offset = index(a.vertices.size());
  a.vertices.insert(a.vertices.end(), b.vertices.begin(), b.vertices.end());
  for (const Tri& t : b.triangles)
    a.triangles.push_back({t[0] + offset, t[1] + offset, t[2] + offset});
  return a;
}

TriMesh body_below(const std::vector<double>& x, const std::vector<double>& y,
                   const std::function<double(double, double)>& z) {
  const auto n = static_cast<std::uint32_t>(x.size()), m = static_cast<std::uint32_t>(y.size());
  TriMesh mesh;
  for (const bool top : {false, true})
    for (const double at_y : y)
      for (const double at_x : x)
        mesh.vertices.push_back({at_x, at_y, top ? 0 : z(at_x, at_y)});
  const auto id = [&](std::uint32_t i, std::uint32_t j, bool top) {
    return (top ? n * m : 0) + j * n + i;
  };
  const auto quad = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
    mesh.triangles.push_back({a, b, c});
    mesh.triangles.push_back({a, c, d});
  };
  for (std::uint32_t j = 0; j + 1 < m; ++j)
    for (std::uint32_t i = 0; i + 1 < n; ++i) {
      quad(id(i, j, false), id(i, j + 1, false), id(i + 1, j + 1, false), id(i + 1, j, false));
      quad(id(i, j, true), id(i + 1, j, true), id(i + 1, j + 1, true), id(i, j + 1, true));
    }
  for (std::uint32_t i = 0; i + 1 < n; ++i) {
    quad(id(i, 0, false), id(i + 1, 0, false), id(i + 1, 0, true), id(i, 0, true));
    quad(id(i, m - 1, true), id(i + 1, m - 1, true), id(i + 1, m - 1, false), id(i, m - 1, false));
  }
  for (std::uint32_t j = 0; j + 1 < m; ++j) {
    quad(id(0, j, true), id(0, j + 1, true), id(0, j + 1, false), id(0, j, false));
    quad(id(n - 1, j, false), id(n - 1, j + 1, false), id(n - 1, j + 1, true), id(n - 1, j, true));
  }
  return mesh;
}

} // namespace leastwall::shapes
