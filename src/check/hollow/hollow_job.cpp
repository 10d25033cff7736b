#include "check/hollow/hollow_job.h"

#include "base/errors.h"
#include "check/hollow/pocket_frame.h"
#include "check/hollow/tried_pocket.h"
#include "check/hollow/wall_asked.h"
#include "hollow/pocket_body.h"
#include "job/toml/job_error.h"
#include "wall/surface/machined_surface.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

constexpr double kAtFace_mm = 0.01;
constexpr double kFirstMargin_mm = 0.005;
constexpr int kLearnt = 2;
constexpr int kMostTries = 4; // with more margin
constexpr double kBack = 0.125;
constexpr int kHalvings = 3; // of the part of the half-widths that is kept
constexpr double kAsAsked_mm = 0.1;

/// Makes pockets of one job, one after the other.
class Maker {
 public:
  Maker(const JobWithPocket& job, const HollowOptions& options, const MemoryLimit& memory)
      : job_(job), options_(options), memory_(memory), radius_(ball_radius_of(job)),
        face_(job.job.pocket_face_z_mm.value_or(job.meshes.front().findings.box.high.z)),
        skin_(machined_surface(job.meshes.front().mesh, {face_, true, {}, false}).mesh),
        asked_(job, 0, job.meshes.front(), face_, options.even_wall_mm) {
    if (const double below = face_ - job.meshes.front().findings.box.high.z; below > kAtFace_mm)
      throw job_error(
          job.job_file, job.job.parts.front().line,
          fmt::format("the skin ends {:.3f} mm below the pocket face, so no pocket can "
                      "open there; check board.pocket_face_z and the placing of the skin",
                      below));
    if (skin_.triangles.empty())
      throw job_error(job.job_file, job.job.parts.front().line,
                      "no skin lies below the pocket face; check board.pocket_face_z and the "
                      "placing of the skin");
    near_.emplace(skin_);
    columns_.emplace(skin_);
    upright_mm_ = asked_.upright_mm();
    if (options.cap_mm && *options.cap_mm < radius_ + upright_mm_)
      throw InputError(
          fmt::format("{}: a depth of {:.3f} mm is too small for a ball of radius {:.3f} "
                      "mm below a mouth that stands upright for {:.3f} mm; at least "
                      "{:.3f} mm can be made",
                      job.job_file, *options.cap_mm, radius_, upright_mm_, radius_ + upright_mm_));
    at_ = bit_lattice(job_, skin_.box(), radius_, "skin");
  }

  /// With a part `k` of the half-widths and `margin` on top; `from`: of a try that asked for no
  /// less.
  BallDepths depths(double k, double margin, const BallDepths* from, const RunContext& run) const {
    return ball_depths({*near_, *columns_, face_, radius_, options_.cap_mm.value_or(kNoDepth),
                        [this, k, margin](Vec3 at, Vec3 n) { return asked_.at(at, n, k) + margin; },
                        asked_.most(skin_, k) + margin, upright_mm_, from},
                       at_, run);
  }

  TriMesh body(const BallDepths& depths, const RunContext& run) const {
    const MeshPlacing& placing = job_.pocket().placing;
    return as_read(as_written(pocket_body(depths, radius_, face_, run), placing), placing);
  }

  /// Asks for more where the pocket leaves less than it was to. Returns whether it does.
  bool learn(const JobResult& check, double k) {
    return asked_.learn(check.walls.front().wall.skin.samples, k);
  }

  /// `first_look`: between the places of the lattice a wall may be missed.
  JobResult check(const TriMesh& body, bool first_look, const RunContext& run) const {
    return check_with_pocket(job_, body, first_look ? std::optional(at_.step_mm) : std::nullopt,
                             memory_, run);
  }

  /// Why no bit finds a place.
  NoPocket no_room() const {
    NoPocket out;
    out.no_room = true;
    out.limit_mm = asked_.limit_mm();
    for (std::size_t j = 0; j < at_.ny; ++j)
      for (std::size_t i = 0; i < at_.nx; ++i) {
        const Vec3 c{at_.x(i), at_.y(j), face_};
        if (columns_->count(c).below % 2 == 0)
          continue;
        const SurfaceHit hit = near_->nearest(c);
        if (hit.distance <= out.room_mm)
          continue;
        out.room_mm = hit.distance;
        out.at = c;
        out.needs_mm = radius_ + asked_.at(hit.point, unit(hit.point - c), 1);
      }
    return out;
  }

  HollowReport report(const TriMesh& body, const JobResult& check, double k) const {
    HollowReport out;
    out.volume_mm3 = leastwall::volume_mm3(body);
    out.depth_mm = face_ - body.box().low.z;
    out.ball_radius_mm = radius_;
    out.lattice_mm = at_.step_mm;
    out.even_wall_mm = options_.even_wall_mm;
    out.limit_mm = asked_.limit_mm();
    out.cap_mm = options_.cap_mm;
    out.triangles = body.triangles.size();
    tell_thick(check, k, out);
    return out;
  }

 private:
  /// Where more is left than was asked, and why.
  void tell_thick(const JobResult& check, double k, HollowReport& out) const {
    const WallMap& map = check.walls.front().wall.skin;
    const std::span<const WallSample> own = map.own_samples();
    for (const Tri& cell : map.cells) {
      if (std::ranges::any_of(cell, [&](std::uint32_t s) { return s >= own.size(); }))
        continue;
      const Vec3 a = own[cell[0]].at, b = own[cell[1]].at, c = own[cell[2]].at;
      const double area = length(cross(b - a, c - a)) / 2;
      // The thinnest of its corners stands for it.
      const WallSample& s =
          own[*std::ranges::min_element(cell, {}, [&](std::uint32_t i) { return own[i].wall_mm; })];
      const double want = asked_.at(s.at, s.n, k), over = s.wall_mm - want;
      if (over < kAsAsked_mm) {
        out.as_asked_mm2 += area;
        continue;
      }
      const Vec3 floor = s.at - s.n * want; // where the pocket would end
      const bool capped = out.cap_mm && face_ - floor.z > *out.cap_mm - kAsAsked_mm;
      const bool covered = columns_->count(floor).above > 0;
      (capped ? out.capped_mm2 : covered ? out.undercut_mm2 : out.ball_mm2) += area;
      if (!capped && over > out.most_over_mm) {
        out.most_over_mm = over;
        out.most_over_at = s.at;
      }
    }
  }

  const JobWithPocket& job_;
  const HollowOptions& options_;
  const MemoryLimit& memory_;
  double radius_, face_;
  TriMesh skin_;
  WallAsked asked_;
  double upright_mm_ = 0;
  std::optional<ClosestSurface> near_;
  std::optional<VerticalRayGrid> columns_;
  Lattice at_;
};

bool holds(const JobResult& result) {
  return result.report.wall.verdict == Verdict::safe;
}

} // namespace

std::variant<Hollowed, NoPocket> hollow_job(const JobWithPocket& job, const HollowOptions& options,
                                            const MemoryLimit& memory, const RunContext& run) {
  Maker maker(job, options, memory);
  run.progress("where the bit may go", 0);
  double margin = kFirstMargin_mm;
  BallDepths depths = maker.depths(1, margin, nullptr, run);
  TriMesh body = maker.body(depths, run);
  if (body.triangles.empty())
    return maker.no_room();
  run.progress("checking the pocket", 0.1);
  JobResult result = maker.check(body, true, run);
  for (int tries = 0; tries < kMostTries && !options.even_wall_mm; ++tries) {
    const bool learned = tries < kLearnt && maker.learn(result, 1);
    if (!learned && holds(result))
      break;
    if (!learned) // what the lattice and turned corners took
      margin += more_margin(result.report.wall);
    depths = maker.depths(1, margin, nullptr, run);
    body = maker.body(depths, run);
    if (body.triangles.empty())
      return maker.no_room();
    result = maker.check(body, true, run);
  }
  // As little of the half-widths as still holds, at a first look; then the whole check.
  double served = 1, fails = 0;
  const bool part_serves = holds(result) && !options.even_wall_mm;
  for (int halving = 0; part_serves && halving < kHalvings; ++halving) {
    const double part = (served + fails) / 2;
    run.progress("a larger pocket", 0.3 + 0.15 * halving);
    BallDepths deeper = maker.depths(part, margin, &depths, run);
    TriMesh larger = maker.body(deeper, run);
    if (holds(maker.check(larger, true, run))) {
      served = part;
      depths = std::move(deeper);
      body = std::move(larger);
    } else {
      fails = part;
    }
  }
  for (int tries = 0;; ++tries) {
    run.progress("checking the pocket", 0.8);
    result = maker.check(body, false, run);
    if (holds(result))
      break;
    if (tries == kLearnt + kMostTries || options.even_wall_mm)
      return not_safe(result.report, result.report.wall, job.meshes.front().mesh);
    // The first look missed a place: what lies between its samples is known now.
    if (tries >= kLearnt || !maker.learn(result, served)) {
      if (served < 1)
        served = std::min(1.0, served + kBack);
      else
        margin += more_margin(result.report.wall);
    }
    body = maker.body(maker.depths(served, margin, nullptr, run), run);
    if (body.triangles.empty())
      return maker.no_room();
  }
  HollowReport report = maker.report(body, result, served);
  TriMesh written = as_written(body, job.pocket().placing);
  return Hollowed{std::move(body), std::move(written), report, std::move(result)};
}

} // namespace leastwall
