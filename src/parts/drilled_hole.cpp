#include "parts/drilled_hole.h"

#include "base/maths/angles.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace leastwall {
namespace {

constexpr double kLarger_mm = 0.0004;
constexpr std::uint32_t kFewest = 48, kMost = 2048;

/// Sides of a polygon round a circle that is nowhere farther out than kLarger_mm.
std::uint32_t sides_of(double radius_mm) {
  const double wanted = std::numbers::pi / std::sqrt(2 * kLarger_mm / radius_mm);
  return std::clamp(static_cast<std::uint32_t>(std::ceil(wanted)), kFewest, kMost);
}

} // namespace

TriMesh drilled_hole(const DrilledHole& hole) {
  const double radius = hole.diameter_mm / 2;
  const double point = maths::tan(kDrillPoint_deg / 2 * std::numbers::pi / 180);
  // A tip that is not yet in by its whole point leaves a cone alone.
  const double tip = hole.flat ? 0 : std::min(radius / point, hole.depth_mm);
  const double wide = hole.flat ? radius : tip * point;
  const std::uint32_t n = sides_of(wide);
  const double out = wide / maths::cos(std::numbers::pi / n); // the sides touch the circle
  const double down = hole.from_above ? -1 : 1;
  const double shoulder = hole.face_z_mm + down * (hole.depth_mm - tip);
  const bool has_side = shoulder != hole.face_z_mm;
  TriMesh mesh;
  const auto ring = [&](double z) {
    for (std::uint32_t i = 0; i < n; ++i) {
      const double turn = 2 * std::numbers::pi * i / n;
      mesh.vertices.push_back(
          {hole.at.x + out * maths::cos(turn), hole.at.y + out * maths::sin(turn), z});
    }
  };
  ring(hole.face_z_mm);
  if (has_side)
    ring(shoulder);
  const auto face = static_cast<std::uint32_t>(mesh.vertices.size());
  mesh.vertices.push_back({hole.at.x, hole.at.y, hole.face_z_mm});
  mesh.vertices.push_back({hole.at.x, hole.at.y, hole.face_z_mm + down * hole.depth_mm});
  const std::uint32_t low = has_side ? n : 0;
  for (std::uint32_t i = 0; i < n; ++i) {
    const std::uint32_t k = (i + 1) % n;
    mesh.triangles.push_back({face, i, k});
    if (has_side) {
      mesh.triangles.push_back({i, low + i, k});
      mesh.triangles.push_back({k, low + i, low + k});
    }
    mesh.triangles.push_back({face + 1, low + k, low + i});
  }
  if (!hole.from_above)
    for (Tri& t : mesh.triangles)
      std::swap(t[1], t[2]);
  return mesh;
}

} // namespace leastwall
