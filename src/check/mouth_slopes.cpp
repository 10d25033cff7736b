#include "check/mouth_slopes.h"

#include "base/assumption.h"
#include "base/maths/hypot.h"
#include "budget/effects/spread.h"
#include "causes/causes.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr double kAtFace_mm = 0.01;
constexpr double kFlat = 0.999;      ///< |m_z| of what lies on the face
constexpr double kLargestSlope = 20; ///< flatter than 1 in 20 is a feather edge

/// How deep one cut is under the board's face: the wall to an exact skin that is zeroed on the bed.
std::vector<Cause> causes_alone(const Setup& wall, bool outer) {
  const CutId& cut = outer ? wall.outer_cut : wall.inner_cut;
  const SideSetup& how = outer ? wall.outer : wall.inner;
  Setup alone = wall;
  alone.of_fill = alone.outer_in_fill = false;
  SideSetup exact;
  exact.zero = ZeroFrom::bed;
  exact.touch_point = how.touch_point;
  const bool on_a = cut.side == Side::a;
  alone.inner = on_a ? how : exact;
  alone.outer = on_a ? exact : how;
  alone.inner_cut = on_a ? cut : CutId{};
  alone.outer_cut = on_a ? CutId{.side = Side::b} : cut;
  std::vector<Assumption> ignored;
  return causes_of(alone, ignored);
}

/// What the mouth of a wall may lose, mm >= 0, at one place.
class Widening {
 public:
  Widening(const Setup& setup, const Budget& budget, const MouthSlopes& slopes)
      : setup_(setup), floor_(budget.cause_model), slopes_(slopes),
        largest_(std::max(slopes.inner, slopes.outer)) {
    if (!through_board(setup)) {
      inner_ = causes_alone(setup, false);
      outer_ = causes_alone(setup, true);
    }
  }

  double at(const WallSample& s) const {
    if (through_board(setup_))
      return largest_ * level_floor_errors(floor_, s);
    if (!setup_.of_fill)
      return slopes_.inner * level_floor_errors(inner_, s) +
             slopes_.outer * level_floor_errors(outer_, s);
    return largest_ * level_floor_errors(floor_, s) +
           std::abs(slopes_.inner - slopes_.outer) *
               std::max(level_floor_errors(inner_, s), level_floor_errors(outer_, s));
  }

 private:
  const Setup& setup_;
  std::span<const Cause> floor_;
  std::vector<Cause> inner_, outer_;
  MouthSlopes slopes_;
  double largest_;
};

} // namespace

double level_floor_errors(std::span<const Cause> causes, const WallSample& s) {
  std::vector<Effect> effects(causes.size());
  effects_at(causes, {s.at, {0, 0, -1}, s.wall_mm}, effects);
  const Effect floor = sum_of(effects);
  return std::abs(floor.shift) + 2 * floor.u;
}

double mouth_slope(const TriMesh& mesh, std::optional<double> top_z_mm) {
  const double top = top_z_mm.value_or(mesh.box().high.z);
  double slope = 0;
  for (const Tri& t : mesh.triangles) {
    const Vec3 a = mesh.vertices[t[0]], b = mesh.vertices[t[1]], c = mesh.vertices[t[2]];
    if (std::max({a.z, b.z, c.z}) < top - kAtFace_mm || std::min({a.z, b.z, c.z}) > top)
      continue;
    const Vec3 m = cross(b - a, c - a);
    const double across = maths::hypot(m.x, m.y), along = std::abs(m.z);
    if (along < kFlat * maths::hypot(across, along))
      slope = std::max(slope, std::min(kLargestSlope, along / across));
  }
  return slope;
}

std::vector<Notice> mouth_notices(const WallMeasurement& wall, const Budget& budget,
                                  const Setup& setup, const MouthSlopes& slopes, double limit_mm) {
  if (!(std::max(slopes.inner, slopes.outer) > 1e-6))
    return {};
  const double face = wall.top_z_mm - kAtFace_mm;
  const Widening widening(setup, budget, slopes);
  double least = limit_mm;
  const WallSample* at = nullptr;
  for (std::size_t i = 0; i < wall.skin.samples.size(); ++i) {
    const WallSample& s = wall.skin.samples[i];
    const bool level = std::abs(s.n.z) < 0.9; // straight up it is the land
    if (!level || std::max(s.at.z, s.at.z - s.n.z * s.wall_mm) < face)
      continue;
    const double may_be = budget.worst_mm[i] - widening.at(s);
    if (may_be < least) {
      least = may_be;
      at = &s;
    }
  }
  if (at == nullptr)
    return {};
  return {
      {"mouth-widens",
       fmt::format("At the pocket face near x {:.1f} y {:.1f} the sides slope, so that a cut "
                   "which is too deep is also too wide there. That is not computed in full: the "
                   "wall may end at {:.3f} mm, under the limit. Leave more wood at the mouth, "
                   "or make its sides upright there.",
                   at->at.x, at->at.y, least),
       Severity::unproven}};
}

} // namespace leastwall
