#include "check/holes_in_part.h"

#include "base/maths/angles.h"
#include "base/maths/hypot.h"
#include "budget/effects/spread.h"
#include "budget/effects/verdict.h"
#include "causes/causes.h"
#include "check/parts_on_board.h"
#include "job/job_walls.h"
#include "job/toml/job_error.h"
#include "parts/drilled_hole.h"
#include "parts/on_board.h"
#include "setup/place.h"
#include "setup/reading_places.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <numbers>
#include <optional>

namespace leastwall {
namespace {

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
    for (std::size_t h = 0; h < (part.mirror_of ? 0 : part.holes.size()); ++h)
      if (part.holes[h].from == Hole::From::skin_face || part.holes[h].through)
        notices.push_back({"hole-comes-out",
                           fmt::format("Hole {} comes out of the skin. The wood between its side "
                                       "and the skin there is not checked.",
                                       hole_text(part, h))});
  return notices;
}

namespace {

/// Places of the end of a hole on the board, with the wood that is drawn between them and the
/// pocket face: its middle, its edge, and where bed or board were read under it.
std::vector<WallSample> end_of(const Hole& hole, const OnBoard& on_board, const Setup& setup,
                               double left_mm) {
  constexpr int kAround = 16;
  const double radius = hole.diameter_mm / 2;
  const double rise = hole.flat ? 0 : 1 / maths::tan(kDrillPoint_deg / 2 * std::numbers::pi / 180);
  const Vec3 middle = on_board.place(Vec3{hole.at.x, hole.at.y, 0});
  std::vector<WallSample> out;
  const auto add = [&](double x, double y) {
    const double wood = left_mm + rise * maths::hypot(x - middle.x, y - middle.y);
    out.push_back({{x, y, setup.top_z_mm - wood}, {0, 0, -1}, wood});
  };
  add(middle.x, middle.y);
  for (int i = 0; i < kAround; ++i) {
    const double turn = 2 * std::numbers::pi * i / kAround;
    add(middle.x + radius * maths::cos(turn), middle.y + radius * maths::sin(turn));
  }
  for (const Point2 p : reading_places(setup))
    if (maths::hypot(p.x - middle.x, p.y - middle.y) < radius)
      add(p.x, p.y);
  return out;
}

/// The set-up of the wood between the end of a hole from the skin face and the pocket face, which
/// no one cuts.
Setup under_hole(const Setup& of_wall, const Hole& hole, const Box& all, double top_z_mm) {
  Setup setup = of_wall;
  setup.top_z_mm = top_z_mm;
  setup.outer = hole.how;
  setup.outer_cut = {};
  setup.outer_cut.side = Side::b;
  setup.outer_cut.board = of_wall.outer_cut.board;
  setup.of_fill = setup.outer_in_fill = false;
  setup.has_land = setup.all_land = true;
  return with_footprint_of(setup, all);
}

} // namespace

std::vector<Notice> wood_under_holes(const Job& job, const JobInput& walls, double top_z_mm) {
  std::vector<Notice> notices;
  const Box all = box_on_board(walls);
  for (std::size_t p = 0; p < job.parts.size(); ++p) {
    const Part& part = job.parts[p];
    const auto wall = std::ranges::find_if(walls.walls, [&](const WallInput& w) {
      return w.part_number == p && w.input.setup.inner_cut.side == Side::a &&
             w.input.setup.outer_cut.side == Side::b;
    });
    for (std::size_t h = 0; h < part.holes.size(); ++h) {
      const Hole& hole = part.holes[h];
      if (hole.from != Hole::From::skin_face || hole.through || wall == walls.walls.end())
        continue;
      const Setup setup = under_hole(wall->input.setup, hole, all, top_z_mm);
      std::vector<Assumption> told; // with the walls
      const std::vector<Cause> causes = causes_of(setup, told);
      std::vector<Effect> effects(causes.size());
      double expected = std::numeric_limits<double>::infinity(), worst = expected;
      for (const WallSample& place : end_of(hole, OnBoard(part.on_board), setup,
                                            *job.board.assumed_thickness_mm - hole.depth_mm)) {
        effects_at(causes, place, effects);
        const Effect sum = sum_of(effects);
        expected = std::min(expected, place.wall_mm + sum.shift);
        worst = std::min(worst, place.wall_mm + sum.shift - sum.half_width);
      }
      if (worst >= hole.limit_mm - kLimitTolerance_mm)
        continue;
      const std::string leaves =
          expected > 0 ? fmt::format("leaves {:.3f} mm under the pocket face", expected)
                       : fmt::format("comes {:.3f} mm out of the pocket face", -expected);
      const std::string at_worst =
          worst < expected
              ? fmt::format(", at worst {:.3f} mm{}", std::abs(worst), worst > 0 ? "" : " too deep")
              : "";
      Notice notice{"hole-near-pocket-face",
                    fmt::format("Hole {} {}{}. Its limit, {:.3f} mm, is not sure to hold there; "
                                "drill it less deep.",
                                hole_text(part, h), leaves, at_worst, hole.limit_mm),
                    Severity::unproven};
      if (std::ranges::find(notices, notice) == notices.end()) // of a half and its mirror
        notices.push_back(std::move(notice));
    }
  }
  return notices;
}

} // namespace leastwall
