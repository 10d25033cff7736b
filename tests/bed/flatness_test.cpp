#include "bed/flatness.h"

#include "base/errors.h"
#include "support/build_kind.h"

#include <array>
#include <chrono>
#include <cmath>
#include <doctest/doctest.h>
#include <fstream>
#include <limits>
#include <random>
#include <sstream>

using namespace leastwall;
using doctest::Approx;

namespace {

using Readings = std::vector<Vec3>;

/// x mm, y mm, height um rows of tests/data, as mm.
Readings table(const std::string& name) {
  std::ifstream in(std::string(LEASTWALL_SOURCE_DIR) + "/tests/data/" + name);
  REQUIRE(in.is_open());
  Readings out;
  std::string line;
  while (std::getline(in, line)) {
    if (line.empty() || line[0] == '#')
      continue;
    for (char& c : line)
      if (c == ',')
        c = ' ';
    std::istringstream row(line);
    Vec3 p;
    REQUIRE(static_cast<bool>(row >> p.x >> p.y >> p.z));
    out.push_back({p.x, p.y, p.z / 1000});
  }
  REQUIRE(out.size() >= 25);
  return out;
}

double turn(Vec3 a, Vec3 b, Vec3 c) {
  return cross(b - a, c - a).z;
}

/// The proof as ISO 1101 texts state it, redone from the contacts alone: every reading between the
/// planes through them, and one contact inside the triangle of three, or two crossing segments.
void check_proof(const MinimumZone& zone, const Readings& readings) {
  Readings up, down;
  for (const ZoneContact& c : zone.contacts)
    (c.upper ? up : down).push_back(c.at);
  const double slack = 1e-9;
  for (const Vec3& p : readings) {
    const double r = p.z - zone.slope_x * p.x - zone.slope_y * p.y;
    CHECK(r <= zone.upper_mm + slack);
    CHECK(r >= zone.lower_mm - slack);
  }
  for (const Vec3& p : up)
    CHECK(std::fabs(p.z - zone.slope_x * p.x - zone.slope_y * p.y - zone.upper_mm) < slack);
  for (const Vec3& p : down)
    CHECK(std::fabs(p.z - zone.slope_x * p.x - zone.slope_y * p.y - zone.lower_mm) < slack);
  if (up.size() == 2 && down.size() == 2) {
    CHECK(turn(up[0], up[1], down[0]) * turn(up[0], up[1], down[1]) <= 0);
    CHECK(turn(down[0], down[1], up[0]) * turn(down[0], down[1], up[1]) <= 0);
  } else {
    const Readings& three = up.size() == 3 ? up : down;
    const Readings& single = up.size() == 3 ? down : up;
    REQUIRE(three.size() == 3);
    REQUIRE(single.size() == 1);
    const double s = turn(three[0], three[1], three[2]) > 0 ? 1 : -1;
    for (std::size_t i = 0; i < 3; ++i)
      CHECK(s * turn(three[i], three[(i + 1) % 3], single[0]) >= 0);
  }
  CHECK(contacts_prove(zone, readings));
}

double width(const Readings& p, double a, double b) {
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const Vec3& q : p) {
    const double r = q.z - a * q.x - b * q.y;
    low = std::min(low, r);
    high = std::max(high, r);
  }
  return high - low;
}

/// Slow oracle: the least width lies at a plane through three points or level along two pairs.
double brute_force(const Readings& p) {
  double best = std::numeric_limits<double>::infinity();
  const auto level = [&](Vec3 d, Vec3 e) {
    const double det = d.x * e.y - d.y * e.x;
    if (std::fabs(det) > 1e-9)
      best = std::min(best, width(p, (d.z * e.y - e.z * d.y) / det, (d.x * e.z - e.x * d.z) / det));
  };
  for (std::size_t i = 0; i < p.size(); ++i)
    for (std::size_t j = i + 1; j < p.size(); ++j)
      for (std::size_t k = i; k < p.size(); ++k)
        for (std::size_t l = k + 1; l < p.size(); ++l)
          level(p[j] - p[i], p[l] - p[k]);
  return best;
}

bool touches(const MinimumZone& zone, bool upper, double x, double y) {
  for (const ZoneContact& c : zone.contacts)
    if (c.upper == upper && std::fabs(c.at.x - x) < 1e-6 && std::fabs(c.at.y - y) < 1e-6)
      return true;
  return false;
}

template <class Height> Readings sampled(int nx, int ny, double w, double d, const Height& height) {
  Readings out;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const double x = w * i / (nx - 1), y = d * j / (ny - 1);
      out.push_back({x, y, height(x, y)});
    }
  return out;
}

bool has_cause(const Flatness& f, const std::string& code) {
  for (const Notice& n : f.likely_causes)
    if (n.code == code)
      return true;
  return false;
}

} // namespace

TEST_CASE("the 1955 surface plate: published height range, certified minimum zone") {
  // J. C. Moody, The Tool Engineer, Oct 1955: all within 0.00018 in in his own datum. Minimum zone
  // and least squares recomputed from his readings by linear programme and by convex-hull width.
  const Readings plate = table("moody_plate_1955.csv");
  REQUIRE(plate.size() == 89);
  const Flatness f = judge_flatness(plate);
  CHECK(std::round(f.range_mm / 25.4 * 1e5) == 18); // 0.00018 in
  CHECK(f.range_mm * 1000 == Approx(4.53165).epsilon(1e-6));
  CHECK(f.minimum_zone.normal_mm * 1000 == Approx(4.15730).epsilon(2e-6));
  CHECK(f.minimum_zone.slope_x == Approx(1.2120342e-8).epsilon(1e-4));
  CHECK(f.minimum_zone.slope_y == Approx(-6.3025779e-7).epsilon(1e-5));
  CHECK(f.minimum_zone.type() == "2-2");
  CHECK(touches(f.minimum_zone, true, 812.8, 0));
  CHECK(touches(f.minimum_zone, true, 812.8, 1016));
  CHECK(touches(f.minimum_zone, false, 0, 406.4));
  CHECK(touches(f.minimum_zone, false, 1625.6, 609.6));
  check_proof(f.minimum_zone, plate);
  CHECK(f.least_squares.peak_to_valley_mm * 1000 == Approx(4.49294).epsilon(2e-6));
  CHECK(f.least_squares.rms_mm * 1000 == Approx(1.15615).epsilon(5e-6));
  CHECK(f.least_squares.slope_x == Approx(1.8870639e-8).epsilon(1e-4));
  CHECK(f.least_squares.slope_y == Approx(-8.8657163e-8).epsilon(1e-4));
  CHECK(f.least_squares.offset_mm == Approx(0.0023868443).epsilon(1e-6));
}

TEST_CASE("three tables with certified minimum zones of each contact type") {
  // Exact rationals by linear programme, with the contacts as certificate.
  struct Row {
    const char* file;
    double zone_um;
    const char* type;
    double a, b;           // um per mm
    double lsq_um, rms_um; // least squares peak to valley, rms
    double lsq_a, lsq_b, lsq_c;
  };
  const Row rows[] = {
      {"flat5x5_A.csv", 77.0 / 2, "2-2", -1.0 / 150, -1.0 / 150, 51.28, 12.207637, .1504, .02, 9.2},
      {"flat5x5_B.csv", 514.0 / 15, "3-1", 1.0 / 375, 19.0 / 375, 46.68, 10.377437, .0296, .2456,
       4.36},
      {"flat5x5_C.csv", 113.0 / 3, "1-3", -1.0 / 30, -1.0 / 50, 53.64, 12.213435, -.1888, .0896,
       22.96}};
  for (const Row& row : rows) {
    CAPTURE(std::string(row.file));
    const Readings p = table(row.file);
    const Flatness f = judge_flatness(p);
    CHECK(f.minimum_zone.vertical_mm * 1000 == Approx(row.zone_um).epsilon(1e-10));
    CHECK(f.minimum_zone.type() == row.type);
    CHECK(f.minimum_zone.slope_x * 1000 == Approx(row.a).epsilon(1e-9));
    CHECK(f.minimum_zone.slope_y * 1000 == Approx(row.b).epsilon(1e-9));
    check_proof(f.minimum_zone, p);
    CHECK(f.least_squares.vertical_mm * 1000 == Approx(row.lsq_um).epsilon(1e-9));
    CHECK(f.least_squares.rms_mm * 1000 == Approx(row.rms_um).epsilon(1e-7));
    CHECK(f.least_squares.slope_x * 1000 == Approx(row.lsq_a));
    CHECK(f.least_squares.slope_y * 1000 == Approx(row.lsq_b));
    CHECK(f.least_squares.offset_mm * 1000 == Approx(row.lsq_c));
  }
  const MinimumZone b = minimum_zone(table("flat5x5_B.csv"));
  CHECK(touches(b, true, 25, 0));
  CHECK(touches(b, true, 100, 75));
  CHECK(touches(b, true, 0, 100));
  CHECK(touches(b, false, 25, 25));
}

TEST_CASE("surfaces with a known answer") {
  // Closed forms. Saddle, centre bump, tilted plane.
  const Readings saddle =
      sampled(3, 3, 2, 2, [](double x, double y) { return 0.010 * (x - 1) * (y - 1); });
  CHECK(minimum_zone(saddle).vertical_mm == Approx(0.020));
  CHECK(least_squares_plane(saddle).peak_to_valley_mm == Approx(0.020));
  check_proof(minimum_zone(saddle), saddle);

  const Readings bump{{0, 0, 0}, {100, 0, 0}, {0, 100, 0}, {100, 100, 0}, {50, 50, 0.02}};
  CHECK(minimum_zone(bump).vertical_mm == Approx(0.02));
  check_proof(minimum_zone(bump), bump);

  const Readings plane =
      sampled(7, 5, 600, 400, [](double x, double y) { return 1 + .002 * x + .001 * y; });
  CHECK(minimum_zone(plane).vertical_mm < 1e-12);
  CHECK(least_squares_plane(plane).vertical_mm < 1e-12);
  CHECK(least_squares_plane(plane).slope_x == Approx(.002));
  CHECK(contacts_prove(minimum_zone(plane), plane));

  const Readings tilted_bump = sampled(3, 3, 100, 100, [](double x, double y) {
    return .002 * x + .001 * y + (x == 50 && y == 50 ? .02 : 0);
  });
  CHECK(minimum_zone(tilted_bump).vertical_mm == Approx(0.02));
  CHECK(minimum_zone(tilted_bump).normal_mm / 0.01999995 == Approx(1).epsilon(1e-8));

  // Five points of an engineering forum question; answer recomputed by linear programme.
  const Readings five{
      {11.5, 7, 1.1}, {18.5, 6.9, 1.03}, {4.5, 13, 1.02}, {25.5, 30, 1.03}, {11.5, 37.5, 1.02}};
  const Flatness f = judge_flatness(five);
  CHECK(f.least_squares.vertical_mm == Approx(0.072097313).epsilon(1e-7));
  CHECK(f.minimum_zone.vertical_mm == Approx(0.067262295).epsilon(1e-7));
  CHECK(f.minimum_zone.normal_mm == Approx(0.067262058).epsilon(1e-7));
  CHECK(f.minimum_zone.slope_x == Approx(-0.00042857).epsilon(1e-5));
  CHECK(f.minimum_zone.slope_y == Approx(-0.0026229508).epsilon(1e-7));
  CHECK(f.minimum_zone.type() == "2-2");
  check_proof(f.minimum_zone, five);
}

TEST_CASE("paraboloid, cylinder and one corner up: flatness and shape") {
  const auto u = [](double x) { return x / 300 - 1; };
  const auto v = [](double y) { return y / 200 - 1; };
  const Readings bowl = sampled(21, 15, 600, 400, [&](double x, double y) {
    return 0.1 * (u(x) * u(x) + v(y) * v(y)) - 0.2;
  });
  const Flatness b = judge_flatness(bowl);
  CHECK(b.minimum_zone.normal_mm == Approx(0.2));
  CHECK(*b.shape.crown_x_mm == Approx(-0.1));
  CHECK(*b.shape.crown_y_mm == Approx(-0.1));
  CHECK(has_cause(b, "dip"));
  CHECK_FALSE(has_cause(b, "tilt"));

  const Readings arch =
      sampled(21, 15, 600, 400, [&](double x, double) { return 0.2 * (1 - u(x) * u(x)); });
  const Flatness a = judge_flatness(arch);
  CHECK(a.minimum_zone.normal_mm == Approx(0.2));
  CHECK(*a.shape.crown_x_mm == Approx(0.2));
  CHECK(*a.shape.crown_y_mm == Approx(0));
  CHECK(a.likely_causes.front().code == "crown");
  CHECK(a.highest_off_plane.x == 300);

  const Readings corner{{0, 0, 0}, {600, 0, 0}, {0, 400, 0}, {600, 400, 0.3}};
  const Flatness c = judge_flatness(corner);
  CHECK(c.minimum_zone.vertical_mm == Approx(0.15));
  CHECK(c.minimum_zone.type() == "2-2");
  CHECK(c.least_squares.vertical_mm == Approx(0.15));
  CHECK(*c.shape.twist_mm == Approx(0.15));
  CHECK(has_cause(c, "twist"));
  CHECK_FALSE(c.shape.crown_x_mm);
}

TEST_CASE("tilt is told per metre and in degrees, and only where it can be known") {
  const Readings p =
      sampled(5, 4, 600, 400, [](double x, double y) { return 0.0005 * x - 0.00025 * y; });
  const Flatness f = judge_flatness(p);
  CHECK(*f.tilt_x_mm_per_m == Approx(0.5));
  CHECK(*f.tilt_y_mm_per_m == Approx(-0.25));
  CHECK(*f.tilt_x_deg == Approx(0.0286479).epsilon(1e-5)); // atan(0.0005), = 0.10 on 200 mm
  CHECK(f.likely_causes.front().code == "tilt");
  FlatnessOptions straightedge;
  straightedge.tilt_known = false;
  const Flatness g = judge_flatness(p, straightedge);
  CHECK_FALSE(g.tilt_x_mm_per_m);
  CHECK_FALSE(has_cause(g, "tilt"));
}

TEST_CASE("ridges one stepover apart are told from everything else") {
  const double pi = std::acos(-1.0);
  std::mt19937 random(1);
  std::normal_distribution<double> noise(0, 0.002);
  const Readings ridged = sampled(61, 12, 300, 400, [&](double x, double y) {
    return 0.0002 * y + 0.02 * std::sin(2 * pi * x / 24) + noise(random);
  });
  FlatnessOptions options;
  options.stepover_mm = 24;
  const Flatness f = judge_flatness(ridged, options);
  REQUIRE(f.shape.ridges);
  CHECK(f.shape.ridges->along_x);
  CHECK(f.shape.ridges->apart_mm == Approx(24).epsilon(0.03));
  CHECK(f.shape.ridges->height_mm == Approx(0.04).epsilon(0.05));
  REQUIRE(has_cause(f, "ridges"));
  for (const Notice& n : f.likely_causes)
    if (n.code == "ridges")
      CHECK(n.text.find("tram") != std::string::npos);
  for (int seed = 0; seed < 40; ++seed) { // scatter alone has no ridges
    std::mt19937 r(static_cast<unsigned>(seed));
    const Readings rough = sampled(9, 8, 300, 200, [&](double, double) { return 10 * noise(r); });
    CHECK_FALSE(bed_shape(rough).ridges);
  }
}

TEST_CASE("random tables agree with brute force, ties included") {
  std::mt19937 random(20);
  for (int round = 0; round < 60; ++round) {
    CAPTURE(round);
    const int side = 3 + round % 2;
    const int levels = round % 3 == 0 ? 3 : 40; // few levels: many ties
    const Readings p = sampled(side, side, 90, 60, [&](double, double) {
      return static_cast<double>(random() % static_cast<unsigned>(levels)) / 1000;
    });
    const MinimumZone zone = minimum_zone(p);
    const double oracle = brute_force(p);
    CHECK(std::fabs(zone.vertical_mm - oracle) < 1e-12);
    CHECK(contacts_prove(zone, p));
    CHECK(zone.vertical_mm <= least_squares_plane(p).vertical_mm + 1e-15);
  }
  std::uniform_real_distribution<double> u(-200, 200);
  for (int round = 0; round < 40; ++round) { // scattered
    Readings p;
    for (int i = 0; i < 12; ++i)
      p.push_back({u(random), u(random), u(random) / 1000});
    const MinimumZone zone = minimum_zone(p);
    CHECK(std::fabs(zone.vertical_mm - brute_force(p)) < 1e-11);
    check_proof(zone, p);
  }
}

TEST_CASE("a row of readings, a single one, none") {
  const Readings row{{0, 0, 0}, {30, 40, 0.3}, {60, 80, 0.2}}; // 100 mm long, middle 0.2 up
  const MinimumZone zone = minimum_zone(row);
  CHECK(zone.vertical_mm == Approx(0.2));
  CHECK(zone.type() == "1-2");
  CHECK(contacts_prove(zone, row));
  CHECK(*bed_shape(row).crown_y_mm == Approx(0.2));
  CHECK(least_squares_plane(row).slope_x == Approx(0.002 * 0.6)); // 0.2 in 100, along the line
  CHECK(least_squares_plane(row).slope_y == Approx(0.002 * 0.8));
  const Flatness one = judge_flatness(Readings{{5, 5, 0.3}});
  CHECK(one.minimum_zone.vertical_mm == 0.0);
  CHECK_FALSE(one.tilt_x_mm_per_m);
  CHECK_THROWS_AS(judge_flatness(Readings{}), InputError);
}

TEST_CASE("200 x 200 readings are judged in under half a second") {
  std::mt19937 random(9);
  std::normal_distribution<double> noise(0, 0.01);
  const Readings p = sampled(200, 200, 1200, 800, [&](double x, double y) {
    return 0.0004 * x - 0.0001 * y + 1e-7 * (x - 600) * (x - 600) + noise(random);
  });
  const auto start = std::chrono::steady_clock::now();
  const Flatness f = judge_flatness(p);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  MESSAGE("200 x 200: " << took.count() << " s");
#ifdef NDEBUG
  CHECK(took.count() < test::by_build(0.5, 10.0));
#endif
  check_proof(f.minimum_zone, p);
}

TEST_CASE("a doctored zone does not pass as proven") {
  const Readings p = table("flat5x5_A.csv");
  MinimumZone wide = minimum_zone(p);
  wide.upper_mm += 0.001;
  CHECK_FALSE(contacts_prove(wide, p));
  MinimumZone shifted = minimum_zone(p);
  shifted.contacts[0].weight = 0.9;
  CHECK_FALSE(contacts_prove(shifted, p));
}
