#include "check/hollow/mend_job.h"

#include "base/errors.h"
#include "check/hollow/pocket_frame.h"
#include "check/hollow/tried_pocket.h"
#include "check/hollow/wall_asked.h"
#include "hollow/mended_pocket.h"
#include "job/toml/job_error.h"
#include "mesh/inspect_mesh.h"
#include "space/cube_key.h"
#include "spatial/closest_surface.h"
#include "spatial/vertical_ray_grid.h"
#include "wall/surface/machined_surface.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <unordered_set>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

constexpr double kFirstMargin_mm = 0.005;
constexpr double kFacetsPerRadius = 4;
constexpr double kSlack_mm = 0.02; // of the ball: drawn fillets are many-sided
constexpr int kLearnt = 3;
constexpr int kMostTries = 4; // with more margin
constexpr double kBack = 0.125;
constexpr int kHalvings = 3;
constexpr double kThinCube_mm = 0.25;

/// The walls between this pocket and what it lies in; those of parts that mirror its part, too.
std::vector<std::size_t> own_walls(const JobWithPocket& job) {
  std::vector<std::size_t> out;
  for (std::size_t w = 0; w < job.walls.size(); ++w) {
    const JobWall& wall = job.walls[w];
    const bool shares = wall.part == job.part || job.job.parts[wall.part].mirror_of == job.part;
    if (shares && !wall.beside && wall.inner == PartCut{PartCut::Kind::pocket, job.number})
      out.push_back(w);
  }
  return out;
}

const WallReport& report_of(const JobResult& result, std::size_t wall) {
  return result.walls.size() == 1 ? result.report.wall : result.report.walls[wall].wall;
}

/// Where the wall is to be changed: the places of the pocket that lack some, and round them.
class ThinPlaces {
 public:
  ThinPlaces(const std::vector<std::pair<Vec3, Vec3>>& on_pocket_and_skin) {
    std::unordered_set<std::uint64_t> seen;
    for (const auto& [pocket, skin] : on_pocket_and_skin)
      if (seen.insert(cube_key(pocket, kThinCube_mm)).second) {
        const auto i = static_cast<std::uint32_t>(mesh_.vertices.size());
        mesh_.vertices.push_back(pocket);
        mesh_.vertices.push_back(skin);
        mesh_.triangles.push_back({i, i + 1, i});
      }
    if (!mesh_.triangles.empty())
      near_.emplace(mesh_);
  }
  ThinPlaces(const ThinPlaces&) = delete;
  ThinPlaces& operator=(const ThinPlaces&) = delete;

  bool none() const { return !near_; }
  const ClosestSurface& near() const { return *near_; }

  /// Nodes no farther than `reach_mm` from one of them, seen from above.
  std::vector<char> nodes(const Lattice& at, double reach_mm) const {
    std::vector<char> out(at.nx * at.ny);
    const auto reach = static_cast<std::ptrdiff_t>(std::ceil(reach_mm / at.step_mm)) + 1;
    std::unordered_set<std::size_t> done;
    for (const Vec3& v : mesh_.vertices) {
      const auto i = static_cast<std::ptrdiff_t>(std::lround((v.x - at.left_mm) / at.step_mm));
      const auto j = static_cast<std::ptrdiff_t>(std::lround((v.y - at.near_mm) / at.step_mm));
      const auto nx = static_cast<std::ptrdiff_t>(at.nx), ny = static_cast<std::ptrdiff_t>(at.ny);
      if (i < 0 || j < 0 || i >= nx || j >= ny ||
          !done.insert(at.node(static_cast<std::size_t>(i), static_cast<std::size_t>(j))).second)
        continue;
      for (std::ptrdiff_t b = std::max<std::ptrdiff_t>(0, j - reach);
           b <= std::min(ny - 1, j + reach); ++b)
        for (std::ptrdiff_t a = std::max<std::ptrdiff_t>(0, i - reach);
             a <= std::min(nx - 1, i + reach); ++a)
          if ((a - i) * (a - i) + (b - j) * (b - j) <= reach * reach)
            out[at.node(static_cast<std::size_t>(a), static_cast<std::size_t>(b))] = 1;
    }
    return out;
  }

 private:
  TriMesh mesh_; ///< a line each, from the pocket to the skin
  std::optional<ClosestSurface> near_;
};

/// Changes the pocket of one job, one try after the other.
class Mender {
 public:
  Mender(const JobWithPocket& job, const JobInput& input, const JobResult& before, std::size_t wall,
         const RunContext& run)
      : job_(job), given_(job.meshes[job.mesh].mesh),
        outer_(job.meshes[input.walls[wall].skin_mesh]), radius_(ball_radius_of(job)),
        bit_(radius_ - std::min(kSlack_mm, kSlack_mm * radius_)),
        face_(before.walls[wall].report.top_z_mm),
        skin_(machined_surface(outer_.mesh, {face_, true, {}, false}).mesh),
        judged_(below_plane(skin_, face_ - job.pocket().rim_depth_mm.value_or(0))),
        pocket_(machined_surface(given_, {face_, true, {}, false}).mesh),
        asked_(job, wall, outer_, face_, std::nullopt), thin_(thin_places(before, wall)) {
    if (judged_.triangles.empty() || pocket_.triangles.empty() || thin_.none())
      return;
    near_.emplace(judged_);
    columns_.emplace(skin_);
    pocket_near_.emplace(pocket_);
    pocket_columns_.emplace(pocket_);
    at_ = bit_lattice(job_, pocket_.box(), radius_, "pocket");
    reach_ = 2 * bit_ + asked_.most(skin_, 1) + deepest_lack_;
    wanted_ = thin_.nodes(at_, reach_ + 3 * bit_);
    BallDepthsInput input_now = depths_input(*pocket_near_, *pocket_columns_);
    input_now.wall_mm = [](Vec3, Vec3) { return 0.0; };
    now_ = ball_depths(input_now, at_, run);
    fine_ = fine_near(given_, thin_.near(), reach_, radius_ / kFacetsPerRadius, run);
  }

  /// Nothing that could be changed lacks any wall.
  bool idle() const { return !near_; }
  double step_mm() const { return at_.step_mm; }

  MendedPocket mended(double part, double margin, const RunContext& run) const {
    BallDepthsInput input = depths_input(*near_, *columns_);
    input.wall_mm = [&](Vec3 at, Vec3 n) { return asked_.at(at, n, part) + margin; };
    input.most_wall_mm = asked_.most(skin_, part) + margin;
    input.within = &*pocket_near_;
    input.within_columns = &*pocket_columns_;
    const BallDepths allowed = ball_depths(input, at_, run);
    const BitUnion now(now_, bit_, face_), may(allowed, bit_, face_);
    const auto lack = [&](Vec3 v) {
      MendInput::Lack out = lack_at(v, part);
      out.mm += margin;
      return out;
    };
    MendedPocket out = mended_pocket(
        {given_, fine_, now, may, lack, face_, thin_.near(), reach_, radius_ / kFacetsPerRadius},
        run);
    out.mesh = as_read(written(out), job_.pocket().placing);
    return out;
  }

  /// As the file holds it; corners that did not move as they were in the file given.
  TriMesh written(const MendedPocket& mended) const {
    TriMesh out = as_written(mended.mesh, job_.pocket().placing);
    const std::vector<Vec3> kept = in_file(job_.loaded[job_.mesh], job_.pocket().placing);
    for (std::size_t v = 0; v < kept.size(); ++v)
      if (!(mended.moved_mm[v] > 0))
        out.vertices[v] = kept[v];
    return out;
  }

  bool learn(const JobResult& check, std::size_t wall, double part) {
    return asked_.learn(check.walls[wall].wall.skin.samples, part);
  }

 private:
  ThinPlaces thin_places(const JobResult& before, std::size_t wall) {
    std::vector<std::pair<Vec3, Vec3>> out;
    for (const WallSample& sample : before.walls[wall].wall.skin.samples) {
      const WallSample s = asked_.in_part(sample);
      if (s.at.z > face_ - job_.pocket().rim_depth_mm.value_or(0))
        continue;
      const double lack = asked_.at(s.at, s.n, 1) + kFirstMargin_mm - s.wall_mm;
      if (!(lack > 0))
        continue;
      deepest_lack_ = std::max(deepest_lack_, lack);
      out.emplace_back(s.at - s.n * s.wall_mm, s.at);
    }
    return ThinPlaces(out);
  }

  BallDepthsInput depths_input(const ClosestSurface& near, const VerticalRayGrid& columns) const {
    BallDepthsInput out{near, columns, face_, bit_, kNoDepth, {}, 0, -bit_};
    out.above_mm = bit_;
    out.with_between = true;
    out.wanted = [this](std::size_t node) { return wanted_[node] != 0; };
    return out;
  }

  /// By how much the wall at a point of the pocket is less than asked.
  MendInput::Lack lack_at(Vec3 v, double part) const {
    const SurfaceHit hit = near_->nearest(v);
    const bool inside = columns_->count(v).below % 2 != 0;
    const Vec3 way = inside ? hit.point - v : v - hit.point;
    const Vec3 n = hit.distance > 0 ? way / hit.distance : Vec3{0, 0, -1};
    return {asked_.at(hit.point, n, part) - (inside ? hit.distance : -hit.distance), -n};
  }

  const JobWithPocket& job_;
  const TriMesh& given_;
  const LoadedMesh& outer_;
  double radius_, bit_, face_;
  TriMesh skin_;   ///< what the pocket lies in, below the face
  TriMesh judged_; ///< of it where the wall must hold
  TriMesh pocket_; ///< as given, without its lid
  WallAsked asked_;
  double deepest_lack_ = 0;
  ThinPlaces thin_;
  double reach_ = 0;
  std::optional<ClosestSurface> near_, pocket_near_;
  std::optional<VerticalRayGrid> columns_, pocket_columns_;
  Lattice at_;
  std::vector<char> wanted_; ///< nodes
  BallDepths now_;
  SplitMesh fine_; ///< the given pocket, fine where it may change
};

MendReport::Least least_of(const WallReport& wall) {
  return {wall.least_wall.design_mm, wall.least_wall.expected_mm, wall.least_wall.worst_mm,
          wall.least_wall.at};
}

/// The first wall that does not hold though it should: one of this pocket, or one that held before.
std::optional<std::size_t> failing(const JobResult& before, const JobResult& now,
                                   const std::vector<std::size_t>& own) {
  // The face must stay where it is found: what lies beside the pocket is measured up to it.
  for (const std::size_t w : own)
    if (now.walls[w].report.top_z_mm != before.walls[w].report.top_z_mm)
      return w;
  if (now.walls.size() == 1)
    return now.report.wall.verdict == Verdict::safe ? std::nullopt : std::optional<std::size_t>(0);
  for (const std::size_t w : own)
    if (report_of(now, w).verdict != Verdict::safe)
      return w;
  for (std::size_t w = 0; w < now.walls.size(); ++w)
    if (report_of(before, w).verdict == Verdict::safe && report_of(now, w).verdict != Verdict::safe)
      return w;
  return std::nullopt;
}

NoPocket folds(const MendedPocket& mended, const WallReport& wall) {
  NoPocket out;
  out.folds = true;
  out.at = mended.folded_at;
  out.limit_mm = wall.limit_mm;
  return out;
}

} // namespace

std::variant<Mended, NothingToMend, NoPocket>
mend_job(const JobWithPocket& job, const MemoryLimit& memory, const RunContext& run) {
  ball_radius_of(job);
  const LoadedMesh& given = job.meshes[job.mesh];
  if (given.findings.nonmanifold_edges > 0)
    throw job_error(job.job_file, job.pocket().line,
                    fmt::format("{} edges of the pocket's mesh have three facets or more, so no "
                                "one can say what its surface is; mend that in a modelling program",
                                given.findings.nonmanifold_edges));
  const std::vector<std::size_t> own = own_walls(job);
  const std::size_t wall = own.front();
  run.progress("checking the pocket", 0);
  JobResult before = check_with_pocket(job, given.mesh, std::nullopt, memory, run);
  if (!failing(before, before, own))
    return NothingToMend{wall, std::move(before)};
  const JobInput input = job.with_pocket(given);
  const TriMesh& outer = job.meshes[input.walls[wall].skin_mesh].mesh;
  Mender mender(job, input, before, wall, run);
  if (mender.idle())
    return not_safe(before.report, report_of(before, wall), outer);
  double margin = kFirstMargin_mm, part = 1;
  const auto try_one = [&](double of) {
    MendedPocket mended = mender.mended(of, margin, run);
    JobResult check = check_with_pocket(job, mended.mesh, mender.step_mm(), memory, run);
    return std::pair(std::move(mended), std::move(check));
  };
  run.progress("changing the pocket", 0.1);
  auto best = try_one(part);
  std::optional<std::size_t> fails = failing(before, best.second, own);
  for (int tries = 0; fails && tries < kLearnt + kMostTries; ++tries) {
    if (tries >= kLearnt || !mender.learn(best.second, wall, part))
      margin += more_margin(report_of(best.second, *fails));
    best = try_one(part);
    fails = failing(before, best.second, own);
  }
  double too_little = 0;
  for (int halving = 0; !fails && halving < kHalvings; ++halving) {
    run.progress("a smaller change", 0.3 + 0.15 * halving);
    const double less = (part + too_little) / 2;
    auto smaller = try_one(less);
    if (!failing(before, smaller.second, own) && smaller.first.folded == 0) {
      best = std::move(smaller);
      part = less;
    } else {
      too_little = less;
    }
  }
  for (int tries = 0;; ++tries) {
    run.progress("checking the pocket", 0.8);
    best.second = check_with_pocket(job, best.first.mesh, std::nullopt, memory, run);
    fails = failing(before, best.second, own);
    if (!fails && best.first.folded == 0)
      break;
    if (tries == kMostTries || (!fails && part == 1))
      return fails ? not_safe(best.second.report, report_of(best.second, *fails), outer)
                   : folds(best.first, report_of(best.second, wall));
    if (part < 1) // the first look missed a place
      part = std::min(1.0, part + kBack);
    else
      margin += more_margin(report_of(best.second, *fails));
    best = try_one(part);
  }
  const MendedPocket& mended = best.first;
  MendReport report{job.pocket().name,
                    ball_radius_of(job),
                    job.walls[wall].limit_mm,
                    mended.mesh.triangles.size(),
                    mended.changed.size(),
                    mended.area_mm2,
                    mended.volume_mm3,
                    mended.largest_mm,
                    mended.largest_at,
                    mended.unreached_mm,
                    mended.unreached_at,
                    given.findings.degenerate_dropped + given.findings.doubled_dropped,
                    inspect_mesh(mended.mesh).boundary_edges,
                    least_of(report_of(before, wall)),
                    least_of(report_of(best.second, wall))};
  TriMesh written = mender.written(mended);
  return Mended{std::move(best.first.mesh),
                std::move(written),
                std::move(best.first.moved_mm),
                report,
                wall,
                std::move(before),
                std::move(best.second)};
}

} // namespace leastwall
