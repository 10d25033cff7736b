#include "check/parts_on_board.h"

#include "job/toml/job_error.h"
#include "parts/on_board.h"
#include "parts/outline_gap.h"
#include "setup/place.h"
#include "spatial/closest_surface.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <vector>

namespace leastwall {

std::optional<double> lowest_over(const TriMesh& mesh, Point2 at) {
  std::optional<double> lowest;
  for (const Tri& t : mesh.triangles) {
    double turns[3], sum = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3 a = mesh.vertices[t[k]], b = mesh.vertices[t[(k + 1) % 3]];
      turns[k] = (b.x - a.x) * (at.y - a.y) - (b.y - a.y) * (at.x - a.x);
      sum += turns[k];
    }
    const bool over = (turns[0] >= 0 && turns[1] >= 0 && turns[2] >= 0) ||
                      (turns[0] <= 0 && turns[1] <= 0 && turns[2] <= 0);
    if (!over)
      continue;
    double z = 0; // turn k is the weight of the corner opposite to its side
    for (std::size_t k = 0; k < 3; ++k)
      z += sum != 0 ? turns[k] / sum * mesh.vertices[t[(k + 2) % 3]].z : mesh.vertices[t[k]].z / 3;
    lowest = std::min(lowest.value_or(z), z);
  }
  return lowest;
}

void require_parts_on_board(const JobInput& job, const std::string& job_file) {
  const std::optional<Footprint>& board = job.first().setup.board.footprint;
  if (!board || job.one_wall())
    return;
  for (const std::size_t w : skins_of(job)) {
    const WallInput* part = &job.walls[w];
    const OnBoard on_board(part->on_board);
    const TriMesh& skin = job.meshes[part->skin_mesh].mesh;
    double beyond = 0;
    for (const Vec3& v : skin.vertices) {
      const Vec3 p = on_board.place(v);
      beyond = std::max({beyond, board->low.x - p.x, p.x - board->high.x, board->low.y - p.y,
                         p.y - board->high.y});
    }
    if (beyond > kPlaceRounding_mm)
      throw job_error(job_file, part->line,
                      fmt::format("\"{}\" reaches {:.2f} mm beyond the board; move it with "
                                  "part.place, or correct board.corner and board.size",
                                  part->part, beyond));
  }
}

namespace {

/// How far a place is from a part seen from above, mm: 0 in it, `enough` (over 0) where it is no
/// less.
double distance_from(const WallInput& part, const TriMesh& skin, Point2 at, double enough) {
  const Box& box = part.skin_on_board;
  if (box.plan_gap({{at.x, at.y, box.low.z}, {at.x, at.y, box.high.z}}) >= enough)
    return enough;
  const OnBoard on_board(part.on_board);
  if (lowest_over(skin, on_board.back(at)))
    return 0;
  const TriMesh flat = seen_from_above(skin, on_board);
  return flat.triangles.empty()
             ? enough
             : std::min(enough, ClosestSurface(flat).nearest({at.x, at.y, 0}).distance);
}

} // namespace

void require_parts_off_dowels(const JobInput& job, const std::string& job_file) {
  const double radius = job.flip_hole_radius_mm;
  if (job.one_wall() && radius == 0)
    return; // the report tells
  const std::optional<Footprint>& board = job.first().setup.board.footprint;
  if (!board && radius == 0)
    return;
  const Box all = box_on_board(job);
  const Point2 middle = board ? board->middle() : Point2{all.middle().x, all.middle().y};
  const double enough = std::max(radius, 1e-9);
  for (const std::size_t w : skins_of(job)) {
    const WallInput& part = job.walls[w];
    for (const Point2 pin : dowel_places(part.input.setup.flip, middle)) {
      const double gap = distance_from(part, job.meshes[part.skin_mesh].mesh, pin, enough);
      if (gap >= enough)
        continue;
      const std::string name = part.part.empty() ? "the piece" : fmt::format("\"{}\"", part.part);
      throw job_error(
          job_file, part.line,
          gap > 0
              ? fmt::format("the hole of a dowel of the flip cuts {:.2f} mm into {} at x {:.1f} "
                            "y {:.1f}; move the part with part.place, or the dowels with "
                            "flip.dowels",
                            radius - gap, name, pin.x, pin.y)
              : fmt::format("a dowel of the flip stands in {} at x {:.1f} y {:.1f}; move "
                            "the part with part.place, or the dowels with flip.dowels",
                            name, pin.x, pin.y));
    }
  }
}

void require_parts_apart(const JobInput& job, const std::string& job_file) {
  constexpr double kTouching = 1e-3; // mm: nearer than that is no gap
  const std::vector<std::size_t> parts = skins_of(job);
  for (std::size_t k = 1; k < parts.size(); ++k)
    for (std::size_t i = 0; i < k; ++i) {
      const WallInput &one = job.walls[parts[i]], &other = job.walls[parts[k]];
      if (one.board != other.board)
        continue;
      const double cutter = 2 * std::max(one.input.setup.outer.bit.ball_radius_mm.value_or(0),
                                         other.input.setup.outer.bit.ball_radius_mm.value_or(0));
      const double enough = std::max(cutter, kTouching);
      if (one.skin_on_board.plan_gap(other.skin_on_board) >= enough)
        continue;
      const TriMesh flat = seen_from_above(job.meshes[one.skin_mesh].mesh, OnBoard(one.on_board));
      if (flat.triangles.empty())
        continue;
      const double gap = flat_gap(
          ClosestSurface(flat),
          seen_from_above(job.meshes[other.skin_mesh].mesh, OnBoard(other.on_board)), enough);
      if (gap >= enough)
        continue;
      throw job_error(
          job_file, other.line,
          gap < kTouching
              ? fmt::format("\"{}\" and \"{}\" overlap on the board; state part.place, so that "
                            "each has room",
                            one.part, other.part)
              : fmt::format("\"{}\" and \"{}\" are {:.2f} mm apart on the board, and the cutter of "
                            "side B is {:.2f} mm wide; move one with part.place",
                            one.part, other.part, gap, cutter));
    }
  if (job.holes.empty() || parts.size() < 2)
    return;
  for (const std::size_t w : parts) {
    const WallInput& part = job.walls[w];
    const TriMesh flat = seen_from_above(job.meshes[part.skin_mesh].mesh, OnBoard(part.on_board));
    if (flat.triangles.empty())
      continue;
    const ClosestSurface near_to(flat);
    for (const HoleOnBoard& hole : job.holes)
      if (hole.part != part.part_number && hole.board == part.board &&
          near_to.nearest({hole.mark.at.x, hole.mark.at.y, 0}).distance < hole.mark.diameter_mm / 2)
        throw job_error(job_file, hole.line,
                        fmt::format("\"{}\" cuts into \"{}\"; move it, or the part with part.place",
                                    hole.mark.name, part.part));
  }
}

} // namespace leastwall
