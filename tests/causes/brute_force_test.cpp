// An independent model: a board as columns of wood on a bed of heights, cut by two programs on a
// machine with errors. It knows nothing of sensitivities; flats must agree with them exactly.
#include "base/assumption.h"
#include "causes/setup_support.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <random>
#include <utility>
#include <vector>

using namespace leastwall;
using namespace leastwall::test;

namespace {

constexpr std::size_t kNx = 7, kNy = 5;
constexpr double kHx = 60, kHy = 40;

struct Columns {
  std::vector<double> v = std::vector<double>(kNx * kNy, 0.0);
  double& at(std::size_t i, std::size_t j) { return v[j * kNx + i]; }
  double at(std::size_t i, std::size_t j) const { return v[j * kNx + i]; }
};

double place_x(std::size_t i) {
  return -kHx + 2 * kHx * static_cast<double>(i) / (kNx - 1);
}
double place_y(std::size_t j) {
  return -kHy + 2 * kHy * static_cast<double>(j) / (kNy - 1);
}

std::shared_ptr<const BedMap> map_of(const Columns& c) {
  std::size_t at = 0;
  return grid_of(kHx, kHy, kNx, kNy, [&](double, double) { return c.v[at++]; });
}

// Where the lower face of a stiff board can lie: the lowest of all planes on three bed points
// through which nothing stands, by trying all triples. Several where planes are as low in the
// middle: the board rocks, and where it lies is anybody's guess.
std::vector<Columns> stiff_seats(const Columns& bed) {
  std::vector<Vec3> p;
  for (std::size_t j = 0; j < kNy; ++j)
    for (std::size_t i = 0; i < kNx; ++i)
      p.push_back({place_x(i), place_y(j), bed.at(i, j)});
  double best = 1e9;
  std::vector<Vec3> planes;
  for (std::size_t a = 0; a < p.size(); ++a)
    for (std::size_t b = 0; b < a; ++b)
      for (std::size_t c = 0; c < b; ++c) {
        const Vec3 n = cross(p[b] - p[a], p[c] - p[a]);
        if (std::abs(n.z) < 1e-9)
          continue;
        const double sx = -n.x / n.z, sy = -n.y / n.z, h = p[a].z - sx * p[a].x - sy * p[a].y;
        if (h > best + 1e-9)
          continue;
        bool under = true;
        for (const Vec3& q : p)
          under = under && q.z <= h + sx * q.x + sy * q.y + 1e-10;
        if (!under)
          continue;
        if (h < best - 1e-9)
          planes.clear();
        best = std::min(best, h);
        planes.push_back({sx, sy, h});
      }
  std::vector<Columns> seats;
  for (const Vec3& plane : planes) {
    Columns seat;
    for (std::size_t j = 0; j < kNy; ++j)
      for (std::size_t i = 0; i < kNx; ++i)
        seat.at(i, j) = plane.z + plane.x * place_x(i) + plane.y * place_y(j);
    seats.push_back(seat);
  }
  return seats;
}

struct Job {
  Setup setup;
  Columns board, bed; // true thickness by place of the part; bed height by bed place
  std::vector<std::pair<CauseId, double>> e;
  std::size_t ia = 0, ja = 0, ib = 0, jb = 0; // touch columns
  double depth = 0, height = 0;               // design: floor below, skin below the pocket face
};

double error_of(const Job& job, const CauseId& id) {
  const auto found =
      std::find_if(job.e.begin(), job.e.end(), [&id](const auto& e) { return e.first == id; });
  return found == job.e.end() ? 0.0 : found->second;
}

// Mirrored column on the bed for side B.
std::size_t mirror_i(const Job& job, std::size_t i) {
  return job.setup.flip.line == FlipLine::along_y ? kNx - 1 - i : i;
}
std::size_t mirror_j(const Job& job, std::size_t j) {
  return job.setup.flip.line == FlipLine::along_x ? kNy - 1 - j : j;
}

// The machine cuts one face: height of the final surface over bed zero, given where it believes the
// datum to be and how far from it the program goes.
double cut_height(const Job& job, const SideSetup& side, Side which, double datum,
                  double from_datum) {
  const double plate = side.plate_error_mm; // stands on a thicker plate than entered
  double tools = 0, rough_tools = 0;
  const double datum_touch = error_of(job, {CauseKind::touch_off, which});
  const double tip = error_of(job, {CauseKind::tip_height, which});
  if (side.bit.zero == BitZero::tool_setter) {
    tools = datum_touch + error_of(job, {CauseKind::tool_setter, which, 0}) +
            error_of(job, {CauseKind::tool_setter, which, 1}) + tip;
    // The roughing bit is the one on the datum, unless it is touched off on its own.
    rough_tools = side.roughing && side.roughing->touch_off ? 0 : datum_touch;
  } else {
    tools = datum_touch + tip;
  }
  const double finish = datum + plate + tools + from_datum;
  if (!side.roughing)
    return finish;
  const double rough = datum + plate + rough_tools + error_of(job, {CauseKind::roughing, which}) +
                       from_datum + side.roughing->allowance_mm;
  return std::min(finish, rough);
}

// The board lies on seat_a while side A is cut, on seat_b while side B is.
double brute_wall(const Job& job, const Columns& seat_a, const Columns& seat_b, std::size_t i,
                  std::size_t j, double T_A, double T_B) {
  const Setup& s = job.setup;
  // Side A: skin face down on the bed.
  const double top_touched = seat_a.at(job.ia, job.ja) + job.board.at(job.ia, job.ja);
  const double floor =
      s.inner.zero == ZeroFrom::top
          ? cut_height(job, s.inner, Side::a, top_touched, -job.depth)
          : cut_height(job, s.inner, Side::a, job.bed.at(job.ia, job.ja), T_A - job.depth);
  double pocket_depth = job.board.at(i, j) - (floor - seat_a.at(i, j)); // from the pocket face
  // Between the sides the wood swells, and the resin bows the board.
  const double swell = s.board.swelling_per_percent.value_or(0) * s.board.moisture_change_percent;
  pocket_depth *= 1 + swell;
  const auto bow = [&](std::size_t u, std::size_t v) {
    const double x = place_x(u), y = place_y(v);
    return s.board.resin_cup_mm * (1 - (x * x + y * y) / (kHx * kHx + kHy * kHy));
  };
  // Side B: turned over, pocket face down.
  const auto lower = [&](std::size_t u, std::size_t v) {
    return seat_b.at(mirror_i(job, u), mirror_j(job, v)) + bow(u, v);
  };
  const double face_touched = lower(job.ib, job.jb) + job.board.at(job.ib, job.jb) * (1 + swell);
  const double bed_touched = job.bed.at(mirror_i(job, job.ib), mirror_j(job, job.jb));
  const double skin = s.outer.zero == ZeroFrom::top
                          ? cut_height(job, s.outer, Side::b, face_touched, -(T_B - job.height))
                          : cut_height(job, s.outer, Side::b, bed_touched, job.height);
  const double over_pocket_face = skin - lower(i, j);
  return over_pocket_face - pocket_depth - s.inner.sanding_mm - s.outer.sanding_mm -
         error_of(job, {CauseKind::uneven_sanding, Side::a}) -
         error_of(job, {CauseKind::uneven_sanding, Side::b});
}

} // namespace

TEST_CASE("hundreds of random jobs: columns of wood agree with the sensitivities on flats") {
  std::mt19937 random(20);
  const auto pick = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  const auto coin = [&] { return std::uniform_int_distribution<int>(0, 1)(random) == 1; };
  const auto index = [&](std::size_t n) {
    return std::uniform_int_distribution<std::size_t>(0, n - 1)(random);
  };
  double largest = 0;
  std::size_t marked = 0, rigid = 0, rocking = 0;
  for (int round = 0; round < 600; ++round) {
    Job job;
    Setup& s = job.setup;
    const bool swells = round % 5 == 4; // alone on side A: products of errors are left out
    s.board.footprint = Footprint{{-kHx, -kHy}, {kHx, kHy}};
    s.flip.line = coin() ? FlipLine::along_x : FlipLine::along_y;
    s.inner.zero = coin() ? ZeroFrom::top : ZeroFrom::bed;
    s.outer.zero = coin() ? ZeroFrom::top : ZeroFrom::bed;
    const double T_A = 20, T_B = swells || coin() ? 20 : 20 + pick(-0.5, 0.5);
    s.inner.assumed_thickness_mm = T_A;
    s.outer.assumed_thickness_mm = T_B;
    job.height = pick(17, 19.5);
    job.depth = job.height - pick(0.5, 1.5);
    const double uniform = swells ? 20 : 20 + pick(-0.4, 0.4);
    const bool wedge = !swells && coin();
    for (double& t : job.board.v)
      t = uniform + (wedge ? pick(-0.1, 0.1) : 0);
    if (wedge)
      s.board.thickness_readings = map_of(job.board);
    else
      s.board.measured_thickness_mm = uniform;
    if (!swells) {
      for (double& h : job.bed.v)
        h = pick(-0.2, 0.2);
      s.bed.seating = round % 4 == 0 ? Seating::rigid : Seating::pressed;
      s.bed.readings = map_of(job.bed);
    }
    std::vector<Columns> seats{job.bed};
    if (s.bed.seating == Seating::rigid)
      seats = stiff_seats(job.bed);
    rigid += s.bed.seating == Seating::rigid ? 1 : 0;
    rocking += seats.size() > 1 ? 1 : 0;
    job.ia = index(kNx), job.ja = index(kNy), job.ib = index(kNx), job.jb = index(kNy);
    s.inner.touch_point = Point2{place_x(job.ia), place_y(job.ja)};
    s.outer.touch_point = Point2{place_x(job.ib), place_y(job.jb)};
    s.board.resin_cup_mm = coin() ? pick(0, 0.2) : 0;
    if (swells) {
      s.board.swelling_per_percent = 0.002;
      s.board.moisture_change_percent = pick(-2, 2);
    }
    for (SideSetup* side : {&s.inner, &s.outer}) {
      if (swells && side == &s.inner)
        continue;
      side->touch_off = {0.05, Knowledge::limits};
      side->plate_error_mm = pick(-0.05, 0.05);
      side->bit.zero = coin() ? BitZero::tool_setter : BitZero::retouched;
      side->bit.setter = {0.02, Knowledge::limits};
      side->bit.tip_height = {0.03, Knowledge::limits};
      if (coin())
        side->roughing = Roughing{pick(0, 0.1), Uncertain{0.08, Knowledge::limits}};
      if (side->roughing && side->bit.zero == BitZero::tool_setter && coin())
        side->roughing->touch_off.reset();
      side->sanding_mm = pick(0, 0.1);
      side->sanding = {0.02, Knowledge::limits};
    }
    std::vector<Assumption> assumptions;
    const std::vector<Cause> causes = causes_of(s, assumptions);
    std::vector<double> e(causes.size(), 0.0);
    for (std::size_t k = 0; k < causes.size(); ++k) {
      if (causes[k].distribution == Distribution::shift) {
        e[k] = causes[k].size;
        continue;
      }
      e[k] = pick(-causes[k].size, causes[k].size);
      job.e.emplace_back(causes[k].id, e[k]); // a roughing bit's own error here
    }
    for (std::size_t k = 0; k < causes.size(); ++k)
      if (causes[k].overcut) {
        double below = causes[k].overcut->allowance_mm + e[k];
        for (const std::size_t f : causes[k].overcut->finishing)
          below -= e[f];
        e[k] = std::min(0.0, below);
        marked += e[k] < 0 ? 1 : 0;
      }
    for (int sample = 0; sample < 4; ++sample) {
      const std::size_t i = index(kNx), j = index(kNy);
      const double wall = job.height - job.depth;
      const WallSample p{{place_x(i), place_y(j), -job.height}, {0, 0, -1}, wall};
      // p.at is the skin: height below the pocket face at z = 0.
      double linear = wall;
      for (std::size_t k = 0; k < causes.size(); ++k)
        linear += causes[k].sensitivity(p) * e[k];
      double thinnest = 1e9;
      for (const Columns& seat_a : seats)
        for (const Columns& seat_b : seats)
          thinnest = std::min(thinnest, brute_wall(job, seat_a, seat_b, i, j, T_A, T_B));
      largest = std::max(largest, std::abs(linear - thinnest));
    }
  }
  CHECK(largest < 1e-9);
  CHECK(rigid > 50);
  CHECK(rocking > 20);
  CHECK(marked > 50); // roughing marks were really among them
}
