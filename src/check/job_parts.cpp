#include "check/job_parts.h"

#include "base/maths/hypot.h"
#include "bed/bed_map.h"
#include "parts/board_room.h"
#include "setup/place.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <utility>

namespace leastwall {
namespace {

std::vector<const Hole*> glue_up_holes(const Part& part) {
  std::vector<const Hole*> holes;
  for (const Hole& hole : part.holes)
    if (hole.dowel_clearance_mm)
      holes.push_back(&hole);
  return holes;
}

double apart(const Hole& a, const Hole& b) {
  return maths::hypot(a.at.x - b.at.x, a.at.y - b.at.y);
}

/// Dowels nearer than this do not say how two halves lie on one another, mm.
constexpr double kLeastApart_mm = 5;

/// The two that stand farthest apart; none where they all stand nearly at one place.
std::optional<std::array<GlueDowel, 2>> holding(const std::vector<const Hole*>& holes) {
  std::optional<std::array<GlueDowel, 2>> out;
  double farthest = kLeastApart_mm;
  for (const Hole* a : holes)
    for (const Hole* b : holes)
      if (apart(*a, *b) > farthest) {
        farthest = apart(*a, *b);
        out = {GlueDowel{a->at, *a->dowel_clearance_mm}, GlueDowel{b->at, *b->dowel_clearance_mm}};
      }
  return out;
}

const JobWall* wall_at_dowel(const Job& job, std::span<const JobWall> walls, std::size_t part) {
  const auto found = std::ranges::find_if(walls, [&](const JobWall& wall) {
    return wall.part == part && wall.outer.kind == PartCut::Kind::skin &&
           wall.inner.kind == PartCut::Kind::hole &&
           job.parts[part].holes[wall.inner.number].dowel_clearance_mm;
  });
  return found == walls.end() ? nullptr : &*found;
}

/// Of the outline of both halves, on either side of the board, the part under which the bed was not
/// read.
double part_not_read(const Setup& setup, const Rim& rim, const std::array<OnBoard, 2>& halves) {
  if (!setup.bed.readings)
    return 0;
  std::size_t not_read = 0;
  for (const RimPoint& p : rim.points)
    for (const OnBoard& half : halves)
      for (const Side side : {Side::a, Side::b}) {
        const Vec3 at = half.place(p.at);
        const Point2 on_bed = bed_place(setup, side, {at.x, at.y});
        not_read += setup.bed.readings->height_mm(on_bed.x, on_bed.y) ? 0 : 1;
      }
  return static_cast<double>(not_read) / static_cast<double>(4 * rim.points.size());
}

std::string seam_of(const std::string& part, const std::string& other) {
  return fmt::format("the step at the seam of \"{}\" and \"{}\"", part, other);
}

/// The first wall of each part that stands for it.
std::vector<const WallInput*> parts_of(const JobInput& job) {
  std::vector<const WallInput*> parts;
  for (const std::size_t w : skins_of(job))
    parts.push_back(&job.walls[w]);
  return parts;
}

const WallInput& part_with(const std::vector<const WallInput*>& parts, std::size_t number) {
  return **std::ranges::find(parts, number, &WallInput::part_number);
}

Box box_of_part(const JobInput& job, std::size_t number) {
  Box box;
  for (const WallInput& wall : job.walls)
    if (wall.part_number == number) {
      box.add(wall.pocket_on_board);
      box.add(wall.skin_on_board);
    }
  return box;
}

} // namespace

void find_halves(const Job& job, std::span<const JobWall> walls, double top_z_mm, JobInput& out) {
  const std::vector<const WallInput*> parts = parts_of(out);
  const auto not_known = [&](const std::string& seam, const std::string& why) {
    out.not_checked.push_back(seam + ": " + why);
  };
  for (std::size_t p = 0; p < job.parts.size(); ++p) {
    const Part& part = job.parts[p];
    if (!part.mirror_of)
      continue;
    const std::string seam = seam_of(part.name, job.parts[*part.mirror_of].name);
    const std::vector<const Hole*> holes = glue_up_holes(part);
    const auto dowels = holding(holes);
    const JobWall* wall = wall_at_dowel(job, walls, p);
    if (!dowels || wall == nullptr) {
      not_known(
          seam,
          holes.empty()
              ? "no hole takes a dowel of the glue-up (part.hole.glue_up_clearance), so nothing "
                "says how the halves lie on one another"
          : holes.size() == 1
              ? "one glue-up dowel lets the halves turn; two say how they lie"
              : "the glue-up dowels stand within 5 mm of one another and let the halves turn");
      continue;
    }
    Rim rim = rim_of(out.meshes[part_with(parts, p).skin_mesh].mesh, top_z_mm);
    if (rim.flat_mm > 0)
      not_known(seam, fmt::format("{:.0f} mm of the outline, where the skin meets the pocket face "
                                  "flatter than 1 in 5",
                                  rim.flat_mm));
    else if (rim.points.empty())
      not_known(seam, "the skin does not reach the pocket face");
    if (rim.points.empty())
      continue;
    const WallInput &one = part_with(parts, p), &other = part_with(parts, *part.mirror_of);
    if (const double not_read =
            part_not_read(wall->setup, rim, {OnBoard(one.on_board), OnBoard(other.on_board)});
        not_read > 0)
      not_known(seam, fmt::format("the bed was not read under {:.0f} % of the outline, where it "
                                  "is taken to be as high as its highest reading",
                                  std::max(1.0, 100 * not_read)));
    HalvesToGlue halves{p, *part.mirror_of, wall->setup, *dowels, std::move(rim)};
    halves.other_board = job.parts[*part.mirror_of].board;
    halves.setup.top_z_mm = top_z_mm;
    out.halves.push_back(std::move(halves));
  }
}

PartsReport parts_report(const JobInput& job, const RunContext& run) {
  const std::vector<const WallInput*> parts = parts_of(job);
  std::vector<PartOutline> outlines;
  for (const WallInput* part : parts)
    outlines.push_back({part->part, job.meshes[part->skin_mesh].mesh, OnBoard(part->on_board),
                        box_of_part(job, part->part_number), part->board});
  PartsReport out;
  out.board = room_on_board(outlines, job.first().setup, job.flip_hole_radius_mm);
  const BudgetOptions& budget = job.first().budget;
  for (const HalvesToGlue& halves : job.halves) {
    run.progress("the seam", 0);
    const WallInput &one = part_with(parts, halves.part), &other = part_with(parts, halves.other);
    const Setup setup = with_footprint_of(halves.setup, box_on_board(job));
    SeamRow row = seam_step({setup, OnBoard(one.on_board), OnBoard(other.on_board), halves.dowels,
                             halves.rim.points, halves.other_board, budget.trials, budget.seed},
                            run);
    row.part = one.part;
    row.with = other.part;
    row.board = one.board;
    row.other_board = other.board;
    out.seams.push_back(std::move(row));
  }
  return out;
}

std::vector<Notice> overhang_notices(const BoardRow& board) {
  std::vector<Notice> out;
  if (board.parts_off_bed_mm.value_or(0) > kPlaceRounding_mm)
    out.push_back(
        {"part-off-bed",
         fmt::format("A part reaches {:.1f} mm beyond the bed: nothing supports it there, "
                     "and how far it bends under the bit nothing says. Move the board on "
                     "the bed (bed.origin), or correct bed.corner and bed.size.",
                     *board.parts_off_bed_mm),
         Severity::unproven});
  else if (board.board_off_bed_mm.value_or(0) > kPlaceRounding_mm)
    out.push_back({"board-off-bed",
                   fmt::format("The board reaches {:.1f} mm beyond the bed, the parts do not: "
                               "nothing supports it there.",
                               *board.board_off_bed_mm),
                   Severity::doubt});
  return out;
}

} // namespace leastwall
