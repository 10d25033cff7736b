#include "ember_mesh.h"

#include "mesh_stream.h"

#include "space/vec3.h"

#include <cmath>
#include <numbers>

namespace leastwall::demo {
namespace {

constexpr Vec3 middle{-37, 0, 0};
constexpr double half_length = 40, half_width = 40, depth = 33; // mm
constexpr int around = 96, down = 40;

/// Point of the ellipsoid: `i` steps round, `j` steps down from the rim.
Vec3 point(int i, int j) {
  if (j == down)
    return {middle.x, middle.y, middle.z - depth};
  const double turn = 2 * std::numbers::pi * (i % around) / around;
  const double fall = 0.5 * std::numbers::pi * j / down;
  const double out = std::cos(fall);
  return {middle.x + half_length * out * std::cos(turn),
          middle.y + half_width * out * std::sin(turn),
          j == 0 ? middle.z : middle.z - depth * std::sin(fall)};
}

} // namespace

std::uint32_t write_ember_room(const std::filesystem::path& path) {
  constexpr std::uint32_t triangles = around * (2 * (down - 1) + 1) + around;
  StlStream out(path, triangles);
  for (int i = 0; i < around; ++i) {
    out.triangle(middle, point(i, 0), point(i + 1, 0)); // the lid, up
    for (int j = 0; j < down; ++j) {
      out.triangle(point(i, j), point(i, j + 1), point(i + 1, j));
      if (j + 1 < down)
        out.triangle(point(i + 1, j), point(i, j + 1), point(i + 1, j + 1));
    }
  }
  out.close();
  return triangles;
}

} // namespace leastwall::demo
