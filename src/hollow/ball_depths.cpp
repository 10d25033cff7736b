#include "hollow/ball_depths.h"

#include "base/parallel.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace leastwall {
namespace {

constexpr int kMostSteps = 5000;
constexpr double kBeside_mm = 0.1;
constexpr double kRounding_mm = 1e-9;

/// How far the ball's middle may go down from `c` before the wall could be met; under 0: it is. The
/// largest wall that is asked anywhere tells enough while it is far.
double room_at(const BallDepthsInput& input, Vec3 c, std::optional<std::uint32_t>& hint) {
  const SurfaceHit hit = input.skin.nearest(c, hint);
  hint = hit.triangle;
  const double far = hit.distance - input.ball_radius_mm - input.most_wall_mm;
  if (far > kWalk_mm)
    return far;
  const Vec3 n = hit.distance > 0 ? (hit.point - c) / hit.distance : Vec3{0, 0, -1};
  return hit.distance - input.ball_radius_mm - input.wall_mm(hit.point, n);
}

/// `deepest_mm`: of the ball's middle under the face.
double lowest_middle(const BallDepthsInput& input, double x, double y, double from_z,
                     double deepest_mm, std::optional<std::uint32_t>& hint) {
  const double face = input.face_z_mm;
  if (input.columns.count({x, y, face}).below % 2 == 0)
    return kNoDepth; // beside the skin, or over a hole in it
  const double floor = deepest_mm < kNoDepth ? face - deepest_mm : -kNoDepth;
  Vec3 c{x, y, std::min(from_z, face)};
  double room = room_at(input, c, hint);
  if (room < -kRounding_mm || c.z < floor)
    return kNoDepth;
  // Beside an upright wall there is no room sideways and much below: short steps go on there, and
  // what lies between two of them is nearer by half a step at most.
  double step = std::max(room, kBeside_mm);
  for (int steps = 0; steps < kMostSteps && step > kWalk_mm / 2 && c.z > floor; ++steps) {
    const Vec3 next{x, y, std::max(c.z - step, floor)};
    const double there = room_at(input, next, hint);
    if (there < -kRounding_mm) {
      step /= 2;
      continue;
    }
    c = next;
    step = std::max(there, std::min(step, kBeside_mm));
  }
  return c.z <= face - input.upright_mm ? c.z : kNoDepth;
}

/// How deep the ball's middle may go.
double deepest_middle(const BallDepthsInput& input) {
  return input.deepest_mm - input.ball_radius_mm; // kNoDepth stays what it is
}

/// Between a node and the next one, of which the bit can go to one only: the last place, halved
/// down to a 64th of the way.
BallDepths::Last last_place(const BallDepthsInput& input, double x, double y, double dx, double dy,
                            bool from_here) {
  double can = from_here ? 0 : 1, cannot = 1 - can;
  std::optional<std::uint32_t> hint;
  const double first = std::min(input.upright_mm, deepest_middle(input));
  for (int halving = 0; halving < 6; ++halving) {
    const double part = (can + cannot) / 2;
    const bool fits =
        lowest_middle(input, x + part * dx, y + part * dy, input.face_z_mm, first, hint) < kNoDepth;
    (fits ? can : cannot) = part;
  }
  if (can == (from_here ? 0 : 1))
    return {};
  return {can * (dx + dy), lowest_middle(input, x + can * dx, y + can * dy, input.face_z_mm,
                                         deepest_middle(input), hint)};
}

} // namespace

Lattice lattice_round(const Box& skin, double ball_radius_mm, double step_mm) {
  const double beyond = ball_radius_mm + 2 * step_mm;
  const auto nodes = [&](double size) {
    return static_cast<std::size_t>(std::ceil((size + 2 * beyond) / step_mm)) + 1;
  };
  return {skin.low.x - beyond, skin.low.y - beyond, step_mm, nodes(skin.size().x),
          nodes(skin.size().y)};
}

BallDepths ball_depths(const BallDepthsInput& input, const Lattice& at, const RunContext& run) {
  const std::size_t nodes = at.nx * at.ny;
  BallDepths out{at, std::vector<double>(nodes, kNoDepth), std::vector<BallDepths::Last>(nodes),
                 std::vector<BallDepths::Last>(nodes)};
  for_blocks(at.ny, 1, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j) {
      std::optional<std::uint32_t> hint;
      for (std::size_t i = 0; i < at.nx; ++i)
        out.middle_z_mm[at.node(i, j)] =
            lowest_middle(input, at.x(i), at.y(j),
                          input.from != nullptr ? input.from->middle_z_mm[at.node(i, j)] : kNoDepth,
                          deepest_middle(input), hint);
    }
  });
  const auto can = [&out](std::size_t node) { return out.middle_z_mm[node] < kNoDepth; };
  for_blocks(at.ny, 1, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j)
      for (std::size_t i = 0; i < at.nx; ++i) {
        const std::size_t here = at.node(i, j);
        if (i + 1 < at.nx && can(here) != can(here + 1))
          out.last_x[here] = last_place(input, at.x(i), at.y(j), at.step_mm, 0, can(here));
        if (j + 1 < at.ny && can(here) != can(here + at.nx))
          out.last_y[here] = last_place(input, at.x(i), at.y(j), 0, at.step_mm, can(here));
      }
  });
  return out;
}

} // namespace leastwall
