#include "hollow/ball_depths.h"

#include "base/parallel.h"
#include "hollow/ball_drop.h"
#include "space/footprint.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace leastwall {
namespace {

constexpr int kMostSteps = 5000;
constexpr double kBeside_mm = 0.1;
constexpr double kRounding_mm = 1e-9;

/// Facets believed to be near, of both surfaces.
struct Hints {
  std::optional<std::uint32_t> skin, within;
};

struct Room {
  /// How far the ball's middle may go any way before the wall could be met; negative where less
  /// than that wall is left.
  double mm = 0;
  double below = 1; ///< about how fast that shrinks on the way down, 0..1
};

/// The largest wall that is asked anywhere tells enough while it is far.
Room room_to_skin(const BallDepthsInput& input, Vec3 c, std::optional<std::uint32_t>& hint) {
  const SurfaceHit hit = input.skin.nearest(c, hint);
  hint = hit.triangle;
  const Vec3 n = hit.distance > 0 ? (hit.point - c) / hit.distance : Vec3{0, 0, -1};
  const double far = hit.distance - input.ball_radius_mm - input.most_wall_mm;
  if (far > kWalk_mm)
    return {far, -n.z};
  return {hit.distance - input.ball_radius_mm - input.wall_mm(hit.point, n), -n.z};
}

Room room_round(const BallDepthsInput& input, Vec3 c, Hints& hints) {
  Room room = room_to_skin(input, c, hints.skin);
  if (input.within != nullptr && room.mm >= -kRounding_mm) {
    const SurfaceHit hit = input.within->nearest(c, hints.within);
    hints.within = hit.triangle;
    if (const double left = hit.distance - input.ball_radius_mm; left < room.mm)
      room = {left, hit.distance > 0 ? (c.z - hit.point.z) / hit.distance : 1};
  }
  return room;
}

double room_at(const BallDepthsInput& input, Vec3 c, Hints& hints) {
  return room_round(input, c, hints).mm;
}

/// Each facet with the wall of its middle, as met from above.
BallDrop drop_onto_skin(const BallDepthsInput& input, const RunContext& run) {
  const TriMesh& mesh = input.skin.mesh();
  std::vector<double> reach(mesh.triangles.size());
  for_blocks(reach.size(), 1 << 10, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      const auto [a, b, c] = input.skin.corners(static_cast<std::uint32_t>(i));
      const Vec3 n = cross(b - a, c - a);
      const Vec3 down = length(n) > 0 ? unit(n.z > 0 ? -n : n) : Vec3{0, 0, -1};
      reach[i] = input.ball_radius_mm + input.wall_mm((a + b + c) / 3, down);
    }
  });
  return {mesh, std::move(reach)};
}

/// What the ball is let down onto.
struct Drops {
  Drops(const BallDepthsInput& input, const RunContext& run) : skin(drop_onto_skin(input, run)) {
    if (input.within != nullptr)
      within.emplace(
          input.within->mesh(),
          std::vector<double>(input.within->mesh().triangles.size(), input.ball_radius_mm));
  }

  double lowest(Vec3 from, double floor_z) const {
    const double z = skin.lowest(from, floor_z);
    return within ? within->lowest(from, z) : z;
  }

  BallDrop skin;
  std::optional<BallDrop> within;
};

constexpr int kMostMoves = 6;
constexpr double kLeastSlope = 0.05; // a steeper side is followed no farther at once

/// Let down from `from`, then moved until it is met within kWalk_mm; absent where that takes long,
/// as where walls differ beside one another.
std::optional<double> let_down(const BallDepthsInput& input, const Drops& drops, Vec3 from,
                               double floor, Hints& hints) {
  Vec3 c{from.x, from.y, drops.lowest(from, floor)};
  if (!(c.z < from.z))
    return std::nullopt;
  for (int moves = 0; moves < kMostMoves; ++moves) {
    const Room room = room_round(input, c, hints);
    if (room.mm >= -kRounding_mm && (room.mm <= kWalk_mm || c.z <= floor))
      return c.z;
    const double move = (kWalk_mm / 2 - room.mm) / std::max(room.below, kLeastSlope);
    if (std::abs(move) > kBeside_mm)
      return std::nullopt;
    c.z = std::max(c.z + move, floor);
    if (c.z >= from.z)
      return std::nullopt;
  }
  return std::nullopt;
}

/// Is the place on the face over what may be taken?
bool opens(const BallDepthsInput& input, double x, double y) {
  const Vec3 p{x, y, input.face_z_mm};
  return input.columns.count(p).below % 2 != 0 && // not beside the skin, or over a hole in it
         (input.within_columns == nullptr || input.within_columns->count(p).below % 2 != 0);
}

/// Is what is taken there less deep than the ball's radius?
bool shallow(const BallDepthsInput& input, double x, double y) {
  const VerticalRayGrid& floor =
      input.within_columns != nullptr ? *input.within_columns : input.columns;
  const std::optional<double> z = floor.highest(x, y);
  return z && input.face_z_mm - *z < input.ball_radius_mm;
}

/// Walked from `c`, where there is `room`.
double walked_down(const BallDepthsInput& input, Vec3 c, double room, double floor, Hints& hint) {
  // Beside an upright wall there is no room sideways and much below: short steps go on there, and
  // what lies between two of them is nearer by half a step at most.
  double step = std::max(room, kBeside_mm);
  for (int steps = 0; steps < kMostSteps && step > kWalk_mm / 2 && c.z > floor; ++steps) {
    const Vec3 next{c.x, c.y, std::max(c.z - step, floor)};
    const double there = room_at(input, next, hint);
    if (there < -kRounding_mm) {
      step /= 2;
      continue;
    }
    c = next;
    step = std::max(there, std::min(step, kBeside_mm));
  }
  return c.z;
}

/// `deepest_mm`: of the ball's middle under the face.
double lowest_middle(const BallDepthsInput& input, const Drops& drops, double x, double y,
                     double from_z, double deepest_mm, Hints& hint) {
  const double face = input.face_z_mm;
  if (!opens(input, x, y))
    return kNoDepth;
  const double floor = deepest_mm < kNoDepth ? face - deepest_mm : -kNoDepth;
  Vec3 c{x, y, std::min(from_z, face + input.above_mm)};
  const double room = room_at(input, c, hint);
  if (room < -kRounding_mm || c.z < floor)
    return kNoDepth;
  const std::optional<double> down = let_down(input, drops, c, floor, hint);
  c.z = down ? *down : walked_down(input, c, room, floor, hint);
  if (c.z > face && !shallow(input, x, y))
    return kNoDepth;
  return c.z <= face - input.upright_mm ? c.z : kNoDepth;
}

/// How deep the ball's middle may go.
double deepest_middle(const BallDepthsInput& input) {
  return input.deepest_mm - input.ball_radius_mm; // kNoDepth stays what it is
}

/// Between a node and the next one, of which the bit can go to one only: the last place, halved
/// down to a 64th of the way.
BallDepths::Last last_place(const BallDepthsInput& input, const Drops& drops, double x, double y,
                            double dx, double dy, bool from_here) {
  double can = from_here ? 0 : 1, cannot = 1 - can;
  Hints hint;
  // Where caps may stay above the face only the lowest middle tells whether there is one.
  const double first = input.above_mm > 0 ? deepest_middle(input)
                                          : std::min(input.upright_mm, deepest_middle(input));
  for (int halving = 0; halving < 6; ++halving) {
    const double part = (can + cannot) / 2;
    const bool fits =
        lowest_middle(input, drops, x + part * dx, y + part * dy, kNoDepth, first, hint) < kNoDepth;
    (fits ? can : cannot) = part;
  }
  if (can == (from_here ? 0 : 1))
    return {};
  return {can * (dx + dy), lowest_middle(input, drops, x + can * dx, y + can * dy, kNoDepth,
                                         deepest_middle(input), hint)};
}

constexpr double kNarrowest = 1.0 / 64; // of a step, between two places

/// A place on the way from a node to the next.
struct OnWay {
  double part = 0, middle_z_mm = kNoDepth;
};

/// Places between two, halving the way until depths differ by no more than a step; in their order.
class WayBetween {
 public:
  WayBetween(const BallDepthsInput& input, const Drops& drops, Point2 from, Point2 way, double step)
      : input_(input), drops_(drops), from_(from), way_(way), step_(step) {}

  void fill(OnWay a, OnWay b, std::vector<BallDepths::Between>& out) {
    if (!(std::abs(a.middle_z_mm - b.middle_z_mm) > step_) || b.part - a.part <= kNarrowest)
      return;
    OnWay half{(a.part + b.part) / 2, 0};
    half.middle_z_mm =
        lowest_middle(input_, drops_, from_.x + half.part * way_.x, from_.y + half.part * way_.y,
                      kNoDepth, deepest_middle(input_), hints_);
    if (!(half.middle_z_mm < kNoDepth))
      return;
    fill(a, half, out);
    out.push_back({half.part * way_.x, half.part * way_.y, half.middle_z_mm});
    fill(half, b, out);
  }

 private:
  const BallDepthsInput& input_;
  const Drops& drops_;
  Point2 from_, way_;
  double step_;
  Hints hints_;
};

/// Of the way from a node to the next: both ends where the bit can go, the last place for the one
/// where it cannot.
void add_between(const BallDepthsInput& input, const Drops& drops, const BallDepths& depths,
                 std::size_t here, std::size_t next, const BallDepths::Last& last, Point2 from,
                 Point2 way, std::vector<BallDepths::Between>& out) {
  OnWay a{0, depths.middle_z_mm[here]}, b{1, depths.middle_z_mm[next]};
  const OnWay end{last.on_way_mm / depths.at.step_mm, last.middle_z_mm};
  (a.middle_z_mm < kNoDepth ? b : a) =
      b.middle_z_mm < kNoDepth && a.middle_z_mm < kNoDepth ? b : end;
  if (a.middle_z_mm < kNoDepth && b.middle_z_mm < kNoDepth)
    WayBetween(input, drops, from, way, depths.at.step_mm).fill(a, b, out);
}

void fill_between(const BallDepthsInput& input, const Drops& drops,
                  const std::function<bool(std::size_t)>& wanted, BallDepths& out,
                  const RunContext& run) {
  const Lattice& at = out.at;
  std::vector<std::vector<BallDepths::Between>> rows(at.ny);
  out.first_between.assign(at.nx * at.ny + 1, 0); // first the counts
  for_blocks(at.ny, 1, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j)
      for (std::size_t i = 0; i < at.nx; ++i) {
        const std::size_t here = at.node(i, j), before = rows[j].size();
        const Point2 from{at.x(i), at.y(j)};
        if (wanted(here) && i + 1 < at.nx && wanted(here + 1))
          add_between(input, drops, out, here, here + 1, out.last_x[here], from, {at.step_mm, 0},
                      rows[j]);
        if (wanted(here) && j + 1 < at.ny && wanted(here + at.nx))
          add_between(input, drops, out, here, here + at.nx, out.last_y[here], from,
                      {0, at.step_mm}, rows[j]);
        out.first_between[here + 1] = rows[j].size() - before;
      }
  });
  for (std::size_t node = 0; node < at.nx * at.ny; ++node)
    out.first_between[node + 1] += out.first_between[node];
  for (const std::vector<BallDepths::Between>& row : rows)
    out.between.insert(out.between.end(), row.begin(), row.end());
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
  const Drops drops(input, run);
  const auto wanted = [&input](std::size_t node) { return !input.wanted || input.wanted(node); };
  BallDepths out{at,
                 std::vector<double>(nodes, kNoDepth),
                 std::vector<BallDepths::Last>(nodes),
                 std::vector<BallDepths::Last>(nodes),
                 {},
                 {}};
  for_blocks(at.ny, 1, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j) {
      Hints hint;
      for (std::size_t i = 0; i < at.nx; ++i)
        if (wanted(at.node(i, j)))
          out.middle_z_mm[at.node(i, j)] = lowest_middle(
              input, drops, at.x(i), at.y(j),
              input.from != nullptr ? input.from->middle_z_mm[at.node(i, j)] : kNoDepth,
              deepest_middle(input), hint);
    }
  });
  const auto can = [&out](std::size_t node) { return out.middle_z_mm[node] < kNoDepth; };
  for_blocks(at.ny, 1, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j)
      for (std::size_t i = 0; i < at.nx; ++i) {
        const std::size_t here = at.node(i, j);
        if (!wanted(here))
          continue;
        if (i + 1 < at.nx && wanted(here + 1) && can(here) != can(here + 1))
          out.last_x[here] = last_place(input, drops, at.x(i), at.y(j), at.step_mm, 0, can(here));
        if (j + 1 < at.ny && wanted(here + at.nx) && can(here) != can(here + at.nx))
          out.last_y[here] = last_place(input, drops, at.x(i), at.y(j), 0, at.step_mm, can(here));
      }
  });
  if (input.with_between)
    fill_between(input, drops, wanted, out, run);
  return out;
}

} // namespace leastwall
