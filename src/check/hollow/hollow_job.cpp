#include "check/hollow/hollow_job.h"

#include "base/errors.h"
#include "budget/effects/reach.h"
#include "budget/effects/spread.h"
#include "causes/causes.h"
#include "check/fit_memory.h"
#include "check/mouth_slopes.h"
#include "hollow/pocket_body.h"
#include "job/toml/job_error.h"
#include "report/words/verdict_text.h"
#include "setup/place.h"
#include "space/cube_key.h"
#include "wall/surface/machined_surface.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <fmt/format.h>
#include <unordered_map>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

constexpr double kStepsPerRadius = 4; // of the lattice: a scallop of R / 128 between two places
constexpr std::size_t kMostNodes = 1'000'000;
constexpr double kAtFace_mm = 0.01;
constexpr double kNearFace_mm = 1;
constexpr double kFirstMargin_mm = 0.005;
constexpr int kLearnt = 2;
constexpr int kMostTries = 4; // with more margin
constexpr double kMissing_mm = 0.01;
constexpr double kBack = 0.125;
constexpr int kHalvings = 3; // of the part of the half-widths that is kept
constexpr double kAsAsked_mm = 0.1;
constexpr double kMouth_mm = 0.3;   // skin so close under the face counts as its mouth
constexpr double kUpright_mm = 0.5; // of the mouth, more than all errors move it up or down

double ball_radius_of(const JobToHollow& job) {
  const Pocket& pocket = job.job.parts.front().pockets.front();
  const std::optional<double> radius = pocket.side_a.bit.ball_radius_mm;
  if (!radius || !(*radius > 0))
    throw job_error(job.job_file, pocket.line,
                    "hollow needs to know the finishing bit of the pocket; state "
                    "side_a.bit.ball_radius");
  return *radius;
}

/// The mesh file is read as the job places it, so it must be placed as it lies.
void require_plain_placing(const JobToHollow& job) {
  const Pocket& pocket = job.job.parts.front().pockets.front();
  const MeshPlacing& p = pocket.placing;
  if (p.mirror != Mirror::none || p.up != UpAxis::plus_z || p.turn_deg != 0 ||
      !(p.shift_mm == Vec3{}) || p.units == LengthUnit::inch)
    throw job_error(
        job.job_file, pocket.line,
        "the pocket is made in millimetres where it lies in the model; give this pocket "
        "a table [part.pocket.placing] with units = \"mm\" and nothing else");
}

/// What single precision holds, as files do.
void round_to_single(TriMesh& mesh) {
  const auto single = [](double v) { return static_cast<double>(static_cast<float>(v)); };
  for (Vec3& v : mesh.vertices)
    v = {single(v.x), single(v.y), single(v.z)};
}

/// What is asked for besides at places where a try left less than it meant to: an edge of the
/// pocket is nearest there, and the errors act along another direction than that of the ball.
class Extra {
 public:
  void raise(Vec3 at, double mm) {
    double& here = by_cube_[cube_key(at, kCube_mm)];
    here = std::max(here, mm);
  }
  double at(Vec3 p) const {
    double mm = 0;
    if (by_cube_.empty())
      return mm;
    for (int x = -1; x <= 1; ++x)
      for (int y = -1; y <= 1; ++y)
        for (int z = -1; z <= 1; ++z)
          if (const auto found = by_cube_.find(cube_key(p, kCube_mm, x, y, z));
              found != by_cube_.end())
            mm = std::max(mm, found->second);
    return mm;
  }

 private:
  static constexpr double kCube_mm = 1;

  std::unordered_map<std::uint64_t, double> by_cube_;
};

/// Makes pockets of one job, one after the other.
class Maker {
 public:
  Maker(const JobToHollow& job, const HollowOptions& options, const MemoryLimit& memory)
      : job_(job), options_(options), memory_(memory), radius_(ball_radius_of(job)),
        face_(job.job.pocket_face_z_mm.value_or(job.skin.findings.box.high.z)),
        skin_(machined_surface(job.skin.mesh, {face_, true, {}, false}).mesh),
        limit_(job.job.parts.front().pockets.front().limit_mm) {
    if (const double below = face_ - job.skin.findings.box.high.z; below > kAtFace_mm)
      throw job_error(
          job.job_file, job.job.parts.front().line,
          fmt::format("the skin ends {:.3f} mm below the pocket face, so no pocket can "
                      "open there; check board.pocket_face_z and the placing of the skin",
                      below));
    if (skin_.triangles.empty())
      throw job_error(job.job_file, job.job.parts.front().line,
                      "no skin lies below the pocket face; check board.pocket_face_z and the "
                      "placing of the skin");
    std::vector<Assumption> told; // by the check
    Setup setup = with_footprint_of(job.common.setup, job.skin.findings.box);
    setup.top_z_mm = face_;
    causes_ = causes_of(setup, told);
    limits_.emplace(causes_);
    near_.emplace(skin_);
    columns_.emplace(skin_);
    const Reach reach = reach_of(setup, job.skin.findings.box);
    upright_mm_ = kUpright_mm + reach.thinner_mm + reach.thicker_mm;
    if (options.cap_mm && *options.cap_mm < radius_ + upright_mm_)
      throw InputError(
          fmt::format("{}: a depth of {:.3f} mm is too small for a ball of radius {:.3f} "
                      "mm below a mouth that stands upright for {:.3f} mm; at least "
                      "{:.3f} mm can be made",
                      job.job_file, *options.cap_mm, radius_, upright_mm_, radius_ + upright_mm_));
    mouth_slope_ = mouth_slope(job.skin.mesh, face_);
    lay_lattice();
  }

  /// With a part `k` of the half-widths and `margin` on top; `from`: of a try that asked for no
  /// less.
  BallDepths depths(double k, double margin, const BallDepths* from, const RunContext& run) const {
    return ball_depths({*near_, *columns_, face_, radius_, options_.cap_mm.value_or(kNoDepth),
                        [this, k, margin](Vec3 at, Vec3 n) { return asked(at, n, k) + margin; },
                        most_asked(k) + margin, upright_mm_, from},
                       at_, run);
  }

  TriMesh body(const BallDepths& depths, const RunContext& run) const {
    TriMesh out = pocket_body(depths, radius_, face_, run);
    round_to_single(out);
    return out;
  }

  double asked(Vec3 at, Vec3 n, double k) const {
    if (options_.even_wall_mm)
      return *options_.even_wall_mm;
    const bool at_mouth = at.z > face_ - kMouth_mm;
    const Limits::At errors = limits_->at({at, n, 0});
    const double wall =
        limit_ + (at_mouth ? 1 : k) * errors.half_width - errors.shift + extra_.at(at);
    return std::max(wall + (at_mouth ? widening(at) : 0), 1e-3);
  }

  /// Asks for more where the pocket leaves less than it was to. Returns whether it does.
  bool learn(const JobResult& check, double k) {
    std::vector<std::pair<Vec3, double>> found; // all are held against what was asked before
    for (const WallSample& s : check.walls.front().wall.skin.samples)
      if (const double missing = asked(s.at, s.n, k) - s.wall_mm; missing > kMissing_mm)
        found.emplace_back(s.at, extra_.at(s.at) + missing + kMissing_mm);
    for (const auto& [at, mm] : found)
      extra_.raise(at, mm);
    return !found.empty();
  }

  /// `first_look`: between the places of the lattice a wall may be missed.
  JobResult check(const TriMesh& body, bool first_look, const RunContext& run) const {
    LoadedMesh pocket;
    pocket.mesh = body;
    pocket.findings = inspect_mesh(body);
    JobInput input = job_.with_pocket(std::move(pocket));
    for (WallInput& wall : input.walls) {
      wall.input.budget.with_advice = wall.input.budget.with_allowed = false;
      if (first_look)
        wall.input.fine_spacing_mm = at_.step_mm;
    }
    fill_reach(input);
    require_memory_for(input, {}, memory_, run);
    return check_job(std::move(input), run);
  }

  /// Why no bit finds a place.
  NoPocket no_room() const {
    NoPocket out;
    out.no_room = true;
    out.limit_mm = limit_;
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
        out.needs_mm = radius_ + asked(hit.point, unit(hit.point - c), 1);
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
    out.limit_mm = limit_;
    out.cap_mm = options_.cap_mm;
    out.triangles = body.triangles.size();
    tell_thick(check, k, out);
    return out;
  }

 private:
  /// No more is asked anywhere: over the corners of the skin, and the errors change little between
  /// them.
  double most_asked(double k) const {
    constexpr double kSpare_mm = 0.05;
    double most = 0;
    for (const Tri& t : skin_.triangles) {
      const Vec3 a = skin_.vertices[t[0]];
      const Vec3 n = unit(cross(skin_.vertices[t[1]] - a, skin_.vertices[t[2]] - a));
      for (const Vec3 way : {n, -n})
        if (way.z <= 0)
          most = std::max(most, asked(a, way, k));
    }
    return most + kSpare_mm;
  }

  /// What a skin that leans at the pocket face may lose there besides (check/mouth_slopes.h); the
  /// check does not prove such a wall otherwise.
  double widening(Vec3 at) const {
    return mouth_slope_ > 0 ? mouth_slope_ * level_floor_errors(causes_, {at, {}, 0}) : 0;
  }

  void lay_lattice() {
    const Box box = skin_.box();
    const double step =
        std::max(radius_ / kStepsPerRadius,
                 std::sqrt(box.size().x * box.size().y / static_cast<double>(kMostNodes)));
    at_ = lattice_round(box, radius_, step);
    if (step > radius_ / 2 || at_.nx * at_.ny > 2 * kMostNodes)
      throw InputError(
          fmt::format("{}: a ball of radius {:.3f} mm is too fine for a skin of {:.0f} by "
                      "{:.0f} mm; at least {:.3f} mm can be followed",
                      job_.job_file, radius_, box.size().x, box.size().y, 2 * step));
  }

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
      const double want = asked(s.at, s.n, k), over = s.wall_mm - want;
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

  const JobToHollow& job_;
  const HollowOptions& options_;
  const MemoryLimit& memory_;
  double radius_, face_;
  TriMesh skin_;
  double limit_;
  double upright_mm_ = 0;
  double mouth_slope_ = 0; ///< of the skin
  Extra extra_;
  std::vector<Cause> causes_;
  std::optional<Limits> limits_;
  std::optional<ClosestSurface> near_;
  std::optional<VerticalRayGrid> columns_;
  Lattice at_;
};

bool is_safe(const JobResult& result) {
  return result.report.wall.verdict == Verdict::safe;
}

/// More margin after a try that does not hold.
double more_margin(const JobResult& result) {
  const WallReport& wall = result.report.wall;
  return std::max(kMissing_mm, 1.1 * (wall.limit_mm - wall.least_wall.worst_mm));
}

NoPocket not_safe(const JobResult& best) {
  const WallReport& wall = best.report.wall;
  NoPocket out;
  out.headline = headline_line(best.report);
  out.finding = finding_text(best.report);
  out.expected_mm = wall.least_wall.expected_mm;
  out.worst_mm = wall.least_wall.worst_mm;
  out.at = wall.least_wall.at;
  out.at_face = best.report.top_z_mm - out.at.z < kNearFace_mm;
  out.limit_mm = wall.limit_mm;
  return out;
}

} // namespace

std::variant<Hollowed, NoPocket> hollow_job(const JobToHollow& job, const HollowOptions& options,
                                            const MemoryLimit& memory, const RunContext& run) {
  require_plain_placing(job);
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
    if (!learned && is_safe(result))
      break;
    if (!learned) // what the lattice and turned corners took
      margin += more_margin(result);
    depths = maker.depths(1, margin, nullptr, run);
    body = maker.body(depths, run);
    if (body.triangles.empty())
      return maker.no_room();
    result = maker.check(body, true, run);
  }
  // As little of the half-widths as still holds, at a first look; then the whole check.
  double holds = 1, fails = 0;
  const bool part_serves = is_safe(result) && !options.even_wall_mm;
  for (int halving = 0; part_serves && halving < kHalvings; ++halving) {
    const double part = (holds + fails) / 2;
    run.progress("a larger pocket", 0.3 + 0.15 * halving);
    BallDepths deeper = maker.depths(part, margin, &depths, run);
    TriMesh larger = maker.body(deeper, run);
    if (is_safe(maker.check(larger, true, run))) {
      holds = part;
      depths = std::move(deeper);
      body = std::move(larger);
    } else {
      fails = part;
    }
  }
  for (int tries = 0;; ++tries) {
    run.progress("checking the pocket", 0.8);
    result = maker.check(body, false, run);
    if (is_safe(result))
      break;
    if (tries == kMostTries || options.even_wall_mm)
      return not_safe(result);
    if (holds < 1) // the first look missed a place
      holds = std::min(1.0, holds + kBack);
    else
      margin += more_margin(result);
    body = maker.body(maker.depths(holds, margin, nullptr, run), run);
    if (body.triangles.empty())
      return maker.no_room();
  }
  HollowReport report = maker.report(body, result, holds);
  return Hollowed{std::move(body), report, std::move(result)};
}

} // namespace leastwall
