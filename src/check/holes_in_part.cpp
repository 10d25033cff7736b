#include "check/holes_in_part.h"

#include "base/maths/angles.h"
#include "causes/model/distribution.h"
#include "check/parts_on_board.h"
#include "job/job_walls.h"
#include "job/toml/job_error.h"

#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <optional>

namespace leastwall {
namespace {

double largest(const Uncertain& error) {
  return error.knowledge == Knowledge::limits ? error.size_mm : kNormalLimit * error.size_mm;
}

/// The facets that may lie over or under a place within `reach_mm` of the point.
TriMesh facets_near(const TriMesh& mesh, Point2 at, double reach_mm) {
  TriMesh near;
  near.vertices = mesh.vertices;
  for (const Tri& t : mesh.triangles) {
    Box box;
    for (const std::uint32_t v : t)
      box.add(mesh.vertices[v]);
    if (box.low.x <= at.x + reach_mm && box.high.x >= at.x - reach_mm &&
        box.low.y <= at.y + reach_mm && box.high.y >= at.y - reach_mm)
      near.triangles.push_back(t);
  }
  return near;
}

std::string hole_text(const Part& part, std::size_t h) {
  return fmt::format("\"{}\"", cut_name(part, {PartCut::Kind::hole, h}));
}

} // namespace

void require_holes_in_part(const Job& job, std::size_t p, const LoadedMesh& skin, double top_z_mm,
                           const std::string& job_file) {
  const Part& part = job.parts[p];
  const Box& box = skin.findings.box;
  for (std::size_t h = 0; h < part.holes.size(); ++h) {
    const Hole& hole = part.holes[h];
    const std::string name = hole_text(part, h);
    const bool from_a = hole.from == Hole::From::pocket_face;
    const std::optional<double> skin_z = lowest_over(skin.mesh, hole.at);
    if (!skin_z)
      throw job_error(
          job_file, hole.line,
          fmt::format(
              "{} at [{:.6g}, {:.6g}] mm lies outside its part, x {:.1f} to {:.1f}, y {:.1f} "
              "to {:.1f} mm; its place is told in the part's own x, y",
              name, hole.at.x, hole.at.y, box.low.x, box.high.x, box.low.y, box.high.y));
    const double tip_z = from_a ? top_z_mm - hole.depth_mm
                                : top_z_mm - *job.board.assumed_thickness_mm + hole.depth_mm;
    if (!from_a && tip_z <= *skin_z)
      throw job_error(job_file, hole.line,
                      fmt::format("{} ends {:.2f} mm before the skin, in wood that side B takes "
                                  "away; its depth counts from the uncut face of the board",
                                  name, *skin_z - tip_z));
    if (from_a && hole.through && tip_z > *skin_z)
      throw job_error(job_file, hole.line,
                      fmt::format("{} is to come out on the other side (ends = \"through\"), but "
                                  "ends {:.2f} mm before the skin; make it deeper, or write ends = "
                                  "\"in the wood\"",
                                  name, tip_z - *skin_z));
  }
}

std::vector<Notice> outline_notices(const Job& job, std::size_t p, const LoadedMesh& skin) {
  constexpr int kAround = 180;
  std::vector<Notice> notices;
  const Part& part = job.parts[p];
  for (std::size_t h = 0; h < (part.mirror_of ? 0 : part.holes.size()); ++h) {
    const Hole& hole = part.holes[h];
    if (hole.from == Hole::From::pocket_face && !hole.through)
      continue; // its wall to the skin is measured
    // A little more than asked for, so that nothing slips between two places.
    const double reach = (hole.diameter_mm / 2 + hole.limit_mm) * 1.001 + 0.01;
    const TriMesh near = facets_near(skin.mesh, hole.at, reach);
    for (int i = 0; i < kAround; ++i) {
      const double turn = 2 * std::numbers::pi * i / kAround;
      if (lowest_over(near,
                      {hole.at.x + reach * maths::cos(turn), hole.at.y + reach * maths::sin(turn)}))
        continue;
      notices.push_back(
          {"hole-near-outline",
           fmt::format("Hole {} has less than its limit, {:.3f} mm, to the outline of "
                       "its part; move it inwards.",
                       hole_text(part, h), hole.limit_mm),
           Severity::unproven});
      break;
    }
  }
  return notices;
}

std::vector<Notice> hole_notices(const Job& job) {
  std::vector<Notice> notices;
  for (const Part& part : job.parts)
    for (std::size_t h = 0; h < (part.mirror_of ? 0 : part.holes.size()); ++h) {
      const Hole& hole = part.holes[h];
      const bool from_b = hole.from == Hole::From::skin_face;
      if (from_b || hole.through)
        notices.push_back({"hole-comes-out",
                           fmt::format("Hole {} comes out of the skin. The wood between its side "
                                       "and the skin there is not checked.",
                                       hole_text(part, h))});
      if (!from_b || hole.through)
        continue;
      const double left = *job.board.assumed_thickness_mm - hole.depth_mm;
      const double errors = largest(hole.how.touch_off) + largest(job.board.thickness_error) +
                            job.board.variation_mm + job.bed.flatness_mm.value_or(0);
      if (left < hole.limit_mm + errors)
        notices.push_back(
            {"hole-near-pocket-face",
             fmt::format("Hole {} leaves {:.3f} mm under the pocket face. With errors "
                         "of up to {:.3f} mm that is not sure to be its limit, {:.3f} "
                         "mm; drill it less deep.",
                         hole_text(part, h), left, errors, hole.limit_mm),
             Severity::unproven});
    }
  return notices;
}

} // namespace leastwall
