#include "hollow/pocket_body.h"

#include "base/maths/hypot.h"
#include "base/parallel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

/// The nearest place to a node where the bit can go, among those within reach of it.
struct Reached {
  double distance_mm = kNoDepth; ///< in the plane
  double middle_z_mm = kNoDepth; ///< lowest ball's middle among the nearest places
};

/// Floor and reach at every node.
class Swept {
 public:
  Swept(const BallDepths& depths, double radius, double face, const RunContext& run)
      : d_(depths), radius_(radius) {
    const Lattice& at = d_.at;
    // A node farther out than the bit's radius by a step is outside for certain.
    reach_ = static_cast<std::ptrdiff_t>(std::ceil(radius / at.step_mm)) + 2;
    floor_.assign(at.nx * at.ny, face);
    near_.resize(at.nx * at.ny);
    for_blocks(at.ny, 1, run, [&](std::size_t begin, std::size_t end) {
      for (std::size_t j = begin; j < end; ++j)
        for (std::size_t i = 0; i < at.nx; ++i)
          look(i, j);
    });
  }

  double floor(std::size_t node) const { return floor_[node]; }
  const Reached& near(std::size_t node) const { return near_[node]; }
  /// Over 0 inside the outline.
  double inside(std::size_t node) const { return radius_ - near_[node].distance_mm; }

 private:
  void look(std::size_t i, std::size_t j) {
    const Lattice& at = d_.at;
    const std::size_t here = at.node(i, j);
    const auto si = static_cast<std::ptrdiff_t>(i), sj = static_cast<std::ptrdiff_t>(j);
    for (std::ptrdiff_t b = std::max<std::ptrdiff_t>(0, sj - reach_);
         b <= std::min<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(at.ny) - 1, sj + reach_); ++b)
      for (std::ptrdiff_t a = std::max<std::ptrdiff_t>(0, si - reach_);
           a <= std::min<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(at.nx) - 1, si + reach_);
           ++a) {
        const std::size_t there = at.node(static_cast<std::size_t>(a), static_cast<std::size_t>(b));
        d_.each_place(there, [&](double dx, double dy, double middle) {
          const double rho = maths::hypot(at.step_mm * static_cast<double>(a - si) + dx,
                                          at.step_mm * static_cast<double>(b - sj) + dy);
          Reached& near = near_[here];
          if (rho < near.distance_mm || (rho == near.distance_mm && middle < near.middle_z_mm))
            near = {rho, middle};
          if (rho < radius_)
            floor_[here] =
                std::min(floor_[here], middle - std::sqrt(radius_ * radius_ - rho * rho));
        });
      }
  }

  const BallDepths& d_;
  double radius_;
  std::ptrdiff_t reach_ = 1;
  std::vector<double> floor_;
  std::vector<Reached> near_;
};

/// Marching squares over the lattice: floor, lid and walls share corners by number.
class Body {
 public:
  Body(const BallDepths& depths, const Swept& swept, double face)
      : at_(depths.at), swept_(swept), face_(face), nodes_(at_.nx * at_.ny) {}

  TriMesh build() {
    for (std::size_t j = 0; j + 1 < at_.ny; ++j)
      for (std::size_t i = 0; i + 1 < at_.nx; ++i)
        square(i, j);
    return std::move(mesh_);
  }

 private:
  /// A corner of the outline polygon of one square: its floor and lid vertices.
  struct Corner {
    std::uint32_t floor = 0, lid = 0;
    bool on_outline = false, made = false;
  };

  Corner node(std::size_t n) {
    Corner& corner = nodes_[n];
    if (!corner.made)
      corner = add(at_.x(n % at_.nx), at_.y(n / at_.nx), swept_.floor(n), false);
    return corner;
  }

  /// Where the outline crosses the edge between a node inside and one outside.
  Corner crossing(std::size_t in, std::size_t out) {
    const auto [place, fresh] = crossings_.try_emplace({in, out});
    if (!fresh)
      return place->second;
    const double a = swept_.inside(in), b = std::min(-1e-9, swept_.inside(out));
    const double f = std::clamp(std::isfinite(b) ? a / (a - b) : 0.5, 0.0, 0.999);
    const double x0 = at_.x(in % at_.nx), y0 = at_.y(in / at_.nx);
    const double x1 = at_.x(out % at_.nx), y1 = at_.y(out / at_.nx);
    // The outermost bit's shaft stands upright there, above its ball's middle.
    const double z = std::min(face_, swept_.near(out).middle_z_mm);
    place->second = add(x0 + f * (x1 - x0), y0 + f * (y1 - y0), z, true);
    return place->second;
  }

  Corner add(double x, double y, double z, bool on_outline) {
    Corner c;
    c.on_outline = on_outline;
    c.made = true;
    c.floor = static_cast<std::uint32_t>(mesh_.vertices.size());
    mesh_.vertices.push_back({x, y, std::min(z, face_)});
    if (mesh_.vertices.back().z >= face_) {
      c.lid = c.floor; // no wall is left between floor and lid
      return c;
    }
    c.lid = static_cast<std::uint32_t>(mesh_.vertices.size());
    mesh_.vertices.push_back({x, y, face_});
    return c;
  }

  void facet(std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    if (a != b && b != c && c != a)
      mesh_.triangles.push_back({a, b, c});
  }

  /// A polygon, counter-clockwise seen from above.
  void polygon(const std::vector<Corner>& corners) {
    for (std::size_t k = 2; k < corners.size(); ++k) {
      facet(corners[0].floor, corners[k].floor, corners[k - 1].floor); // looks down
      facet(corners[0].lid, corners[k - 1].lid, corners[k].lid);       // looks up
    }
    for (std::size_t k = 0; k < corners.size(); ++k) {
      const Corner &a = corners[k], &b = corners[(k + 1) % corners.size()];
      if (!a.on_outline || !b.on_outline)
        continue;
      facet(a.floor, b.floor, b.lid); // looks away from the body
      facet(a.floor, b.lid, a.lid);
    }
  }

  void square(std::size_t i, std::size_t j) {
    const std::array<std::size_t, 4> n{at_.node(i, j), at_.node(i + 1, j), at_.node(i + 1, j + 1),
                                       at_.node(i, j + 1)};
    std::array<bool, 4> in{};
    int count = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      in[k] = swept_.inside(n[k]) > 0;
      count += in[k] ? 1 : 0;
    }
    if (count == 0)
      return;
    if (count == 2 && in[0] == in[2]) { // opposite corners: two bodies that do not meet here
      for (std::size_t k = 0; k < 4; ++k)
        if (in[k])
          polygon({crossing(n[k], n[(k + 3) % 4]), node(n[k]), crossing(n[k], n[(k + 1) % 4])});
      return;
    }
    std::vector<Corner> corners;
    for (std::size_t k = 0; k < 4; ++k) {
      const std::size_t next = (k + 1) % 4;
      if (in[k])
        corners.push_back(node(n[k]));
      if (in[k] && !in[next])
        corners.push_back(crossing(n[k], n[next]));
      if (!in[k] && in[next])
        corners.push_back(crossing(n[next], n[k]));
    }
    polygon(corners);
  }

  const Lattice& at_;
  const Swept& swept_;
  double face_;
  TriMesh mesh_;
  std::vector<Corner> nodes_;
  std::map<std::pair<std::size_t, std::size_t>, Corner> crossings_;
};

} // namespace

TriMesh pocket_body(const BallDepths& depths, double ball_radius_mm, double face_z_mm,
                    const RunContext& run) {
  const Swept swept(depths, ball_radius_mm, face_z_mm, run);
  return Body(depths, swept, face_z_mm).build();
}

double volume_mm3(const TriMesh& closed) {
  double six_times = 0;
  for (const Tri& t : closed.triangles)
    six_times += dot(closed.vertices[t[0]], cross(closed.vertices[t[1]], closed.vertices[t[2]]));
  return six_times / 6;
}

} // namespace leastwall
