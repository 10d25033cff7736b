#include "check/hollow/wall_asked.h"

#include "budget/effects/reach.h"
#include "causes/causes.h"
#include "check/mouth_slopes.h"
#include "setup/place.h"
#include "space/cube_key.h"

#include <algorithm>
#include <utility>

namespace leastwall {
namespace {

constexpr double kCube_mm = 1;
constexpr double kMissing_mm = 0.01;
constexpr double kMouth_mm = 0.3;   // skin so close under the face counts as its mouth
constexpr double kUpright_mm = 0.5; // of the mouth, more than all errors move it up or down

} // namespace

void WallAsked::Extra::raise(Vec3 at, double mm) {
  double& here = by_cube_[cube_key(at, kCube_mm)];
  here = std::max(here, mm);
}

double WallAsked::Extra::at(Vec3 p) const {
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

WallAsked::WallAsked(const JobWithPocket& job, std::size_t wall, const LoadedMesh& outer,
                     double face_z_mm, std::optional<double> even_wall_mm)
    : even_wall_mm_(even_wall_mm), on_board_(job.job.parts[job.walls[wall].part].on_board),
      face_(face_z_mm), limit_(job.walls[wall].limit_mm) {
  std::vector<Assumption> told; // by the check
  const Box box = on_board_.box_of(outer.mesh);
  Setup setup = with_footprint_of(job.walls[wall].setup, box);
  setup.top_z_mm = face_;
  causes_ = causes_of(setup, told);
  limits_.emplace(causes_);
  const Reach reach = reach_of(setup, box);
  upright_mm_ = kUpright_mm + reach.thinner_mm + reach.thicker_mm;
  mouth_slope_ = mouth_slope(outer.mesh, face_);
}

double WallAsked::at(Vec3 at, Vec3 n, double part) const {
  if (even_wall_mm_)
    return *even_wall_mm_;
  const bool at_mouth = at.z > face_ - kMouth_mm;
  const Limits::At errors = limits_->at({on_board_.place(at), on_board_.direction(n), 0});
  const double wall =
      limit_ + (at_mouth ? 1 : part) * errors.half_width - errors.shift + extra_.at(at);
  return std::max(wall + (at_mouth ? widening(at) : 0), 1e-3);
}

double WallAsked::most(const TriMesh& outer, double part) const {
  constexpr double kSpare_mm = 0.05; // the errors change little between corners
  double most = 0;
  for (const Tri& t : outer.triangles) {
    const Vec3 a = outer.vertices[t[0]];
    const Vec3 n = unit(cross(outer.vertices[t[1]] - a, outer.vertices[t[2]] - a));
    for (const Vec3 way : {n, -n})
      if (way.z <= 0)
        most = std::max(most, at(a, way, part));
  }
  return most + kSpare_mm;
}

WallSample WallAsked::in_part(const WallSample& s) const {
  if (!on_board_.moves())
    return s;
  const Point2 at = on_board_.back({s.at.x, s.at.y});
  // Turned and mirrored back by the transposed matrix.
  return {
      {at.x, at.y, s.at.z},
      {dot(on_board_.direction({1, 0, 0}), s.n), dot(on_board_.direction({0, 1, 0}), s.n), s.n.z},
      s.wall_mm};
}

bool WallAsked::learn(std::span<const WallSample> samples, double part) {
  std::vector<std::pair<Vec3, double>> found; // all are held against what was asked before
  for (const WallSample& sample : samples) {
    const WallSample s = in_part(sample);
    if (const double missing = at(s.at, s.n, part) - s.wall_mm; missing > kMissing_mm)
      found.emplace_back(s.at, extra_.at(s.at) + missing + kMissing_mm);
  }
  for (const auto& [where, mm] : found)
    extra_.raise(where, mm);
  return !found.empty();
}

double WallAsked::widening(Vec3 at) const {
  return mouth_slope_ > 0 ? mouth_slope_ * level_floor_errors(causes_, {on_board_.place(at), {}, 0})
                          : 0;
}

} // namespace leastwall
