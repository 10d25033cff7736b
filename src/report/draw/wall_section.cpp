#include "report/draw/wall_section.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace leastwall {
namespace {

using Piece = std::array<SectionPoint, 2>;

constexpr double kBeside_mm = 0.005; // less than a line of any drawing is wide

/// The part of a piece within the window.
std::optional<Piece> clipped(Piece piece, const SectionPoint& low, const SectionPoint& high) {
  double from = 0, to = 1; // shares of the way from the first end to the second
  const auto cut = [&](double a, double b, double least, double most) {
    const double way = b - a;
    if (way == 0)
      return a >= least && a <= most;
    const double enters = ((way > 0 ? least : most) - a) / way;
    const double leaves = ((way > 0 ? most : least) - a) / way;
    from = std::max(from, enters);
    to = std::min(to, leaves);
    return from < to;
  };
  const SectionPoint a = piece[0], b = piece[1];
  if (!cut(a.along_mm, b.along_mm, low.along_mm, high.along_mm) ||
      !cut(a.z_mm, b.z_mm, low.z_mm, high.z_mm))
    return std::nullopt;
  const auto between = [&](double share) {
    return SectionPoint{a.along_mm + (b.along_mm - a.along_mm) * share,
                        a.z_mm + (b.z_mm - a.z_mm) * share};
  };
  return Piece{between(from), between(to)};
}

} // namespace

double section_height_mm(double limit_mm, double wall_mm) {
  return std::clamp(6 * std::max(limit_mm, std::abs(wall_mm)), 4.0, 60.0);
}

SectionPlane plane_along(Vec3 through, Vec3 n) {
  constexpr double kUpright = 0.1; // of a unit: less of it is level
  const double level = std::sqrt(n.x * n.x + n.y * n.y);
  return level > kUpright ? SectionPlane{through, n.x / level, n.y / level}
                          : SectionPlane{through, 1, 0};
}

WallSection wall_section(const WallMeasurement& wall, const WallSample& at, double width_mm,
                         double height_mm) {
  WallSection out;
  out.plane = plane_along(at.at, at.n);
  out.wall_mm = at.wall_mm;
  out.out = {at.n.x * out.plane.dx + at.n.y * out.plane.dy, at.n.z};
  out.on_skin = out.plane.point(at.at);
  out.on_pocket = out.plane.point(at.at - at.n * at.wall_mm);
  const SectionPoint middle{(out.on_skin.along_mm + out.on_pocket.along_mm) / 2,
                            (out.on_skin.z_mm + out.on_pocket.z_mm) / 2};
  out.window_low = {middle.along_mm - width_mm / 2, middle.z_mm - height_mm / 2};
  out.window_high = {middle.along_mm + width_mm / 2, middle.z_mm + height_mm / 2};
  const auto add = [&](const Piece& piece, SectionPieces& to) {
    if (const auto part = clipped(piece, out.window_low, out.window_high))
      to.push_back(*part);
  };
  // Where the plane runs along an edge of a sheet, or along a side, it meets nothing: then what
  // lies a hair beside it is shown.
  for (const double beside : {0.0, kBeside_mm, -kBeside_mm}) {
    SectionPlane plane = out.plane;
    plane.through = plane.through + Vec3{-plane.dy, plane.dx, 0} * beside;
    out.skin.clear();
    out.pocket.clear();
    for (const Piece& piece : wall.pocket_section(plane))
      add(piece, out.pocket);
    const auto& samples = wall.skin.samples;
    for (const Tri& cell : wall.skin.cells)
      if (const auto piece = triangle_section(
              {samples[cell[0]].at, samples[cell[1]].at, samples[cell[2]].at}, plane))
        add(*piece, out.skin);
    if (!out.skin.empty() && !out.pocket.empty())
      break;
  }
  return out;
}

} // namespace leastwall
