#include "pour/tilted_pour.h"

#include "base/maths/angles.h"
#include "mesh/mesh_edges.h"
#include "pour/volume_below.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

constexpr int kDirections = 24;

/// One part of the pocket and the places of its rim.
struct Part {
  TriMesh mesh;
  std::vector<Vec3> rim;
};

std::vector<Part> parts_of(const WetSurface& wet) {
  std::vector<Part> out;
  for (TriMesh& mesh : connected_parts(wet.mesh)) {
    Part part;
    MeshEdges(mesh).for_each(
        [&](std::uint32_t low, std::uint32_t high, std::span<const std::uint32_t> halves) {
          if (halves.size() == 1) {
            part.rim.push_back(mesh.vertices[low]);
            part.rim.push_back(mesh.vertices[high]);
          }
        });
    part.mesh = std::move(mesh);
    if (!part.rim.empty())
      out.push_back(std::move(part));
  }
  return out;
}

/// The level that holds `wanted`, between two that hold less and more: Newton's steps, the change
/// of volume with the level taken from the bracket.
double level_for(const Part& part, double wanted, SlopingLevel low, SlopingLevel high,
                 const RunContext& run) {
  double less = volume_below(part.mesh, low, run) - wanted,
         more = volume_below(part.mesh, high, run) - wanted;
  constexpr double kNear_mm = 1e-9;
  for (int i = 0; i < 100 && high.level_mm - low.level_mm > kNear_mm && less < 0 && more > 0; ++i) {
    SlopingLevel next = low;
    // The line between both, kept off the ends so that the bracket shrinks.
    const double share = std::clamp(-less / (more - less), 1e-3, 1 - 1e-3);
    next.level_mm = i % 3 == 2 ? (low.level_mm + high.level_mm) / 2
                               : low.level_mm + share * (high.level_mm - low.level_mm);
    const double off = volume_below(part.mesh, next, run) - wanted;
    if (off == 0)
      return next.level_mm;
    (off < 0 ? low : high) = next;
    (off < 0 ? less : more) = off;
  }
  return less >= 0 ? low.level_mm : more <= 0 ? high.level_mm : (low.level_mm + high.level_mm) / 2;
}

/// Unit direction, and how far the rim of a part reaches along it: larger where the board is lower.
struct Fall {
  double dx = 1, dy = 0;
  explicit Fall(double towards_deg)
      : dx(maths::cos(towards_deg * std::numbers::pi / 180)),
        dy(maths::sin(towards_deg * std::numbers::pi / 180)) {}
  std::pair<double, double> reach(const Part& part) const {
    double highest = std::numeric_limits<double>::infinity(), lowest = -highest;
    for (const Vec3& v : part.rim) {
      const double along = v.x * dx + v.y * dy;
      highest = std::min(highest, along);
      lowest = std::max(lowest, along);
    }
    return {highest, lowest};
  }
};

TiltedPour in_direction(const std::vector<Part>& parts, const WetSurface& wet, double slope,
                        double towards_deg, const RunContext& run) {
  TiltedPour out;
  out.towards_deg = towards_deg;
  const Fall fall(towards_deg);
  for (const Part& part : parts) {
    const auto [highest, lowest] = fall.reach(part);
    const SlopingLevel brim{wet.face_z_mm - slope * lowest, slope, fall.dx, fall.dy},
        dammed{wet.face_z_mm - slope * highest, slope, fall.dx, fall.dy};
    out.short_mm = std::max(out.short_mm, slope * (lowest - highest));
    out.brim_mm3 += volume_below(part.mesh, brim, run);
    out.dammed_mm3 += volume_below(part.mesh, dammed, run);
    const double level =
        level_for(part, volume_below(part.mesh, wet.face_z_mm, run), brim, dammed, run);
    out.over_mm = std::max(out.over_mm, level + slope * lowest - wet.face_z_mm);
    out.under_mm = std::max(out.under_mm, wet.face_z_mm - level - slope * highest);
  }
  return out;
}

/// The widest rim ends farthest under its highest place.
double worst_direction(const std::vector<Part>& parts) {
  double worst_deg = 0, widest = -1;
  for (int i = 0; i < kDirections; ++i) {
    const double deg = 360.0 / kDirections * i;
    for (const Part& part : parts) {
      const auto [highest, lowest] = Fall(deg).reach(part);
      if (lowest - highest > widest * (1 + 1e-9)) {
        widest = lowest - highest;
        worst_deg = deg;
      }
    }
  }
  return worst_deg;
}

} // namespace

TiltedPour tilted_pour(const WetSurface& wet, const Tilt& tilt, const RunContext& run) {
  const std::vector<Part> parts = parts_of(wet);
  return in_direction(parts, wet, tilt.slope,
                      tilt.towards_deg ? *tilt.towards_deg : worst_direction(parts), run);
}

} // namespace leastwall
