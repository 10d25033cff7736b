// Beds of a known shape: each told, with the size that stands in the readings.
//
// Right values are closed forms: the shapes are made here. Scatter is uniform within +-0.01 mm
// where a size is checked and normal with 0.02 mm where nothing must be found.
#include "bed/flatness.h"

#include "support/build_kind.h"

#include <cmath>
#include <doctest/doctest.h>
#include <functional>
#include <random>
#include <string>

using namespace leastwall;
using doctest::Approx;
using leastwall::test::by_build;

namespace {

using Readings = std::vector<Vec3>;
using Height = std::function<double(double u, double v)>; ///< u, v from -1 to 1

constexpr double kWide_mm = 600, kDeep_mm = 400;

double u_of(const Vec3& p) {
  return 2 * p.x / kWide_mm - 1;
}
double v_of(const Vec3& p) {
  return 2 * p.y / kDeep_mm - 1;
}

Readings grid(int n) {
  Readings out;
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i)
      out.push_back({kWide_mm * i / (n - 1), kDeep_mm * j / (n - 1), 0});
  return out;
}

/// The four corners and places between them.
Readings scattered(int n, std::mt19937& random) {
  std::uniform_real_distribution<double> part(0, 1);
  Readings out{{0, 0, 0}, {kWide_mm, 0, 0}, {0, kDeep_mm, 0}, {kWide_mm, kDeep_mm, 0}};
  while (static_cast<int>(out.size()) < n)
    out.push_back({kWide_mm * part(random), kDeep_mm * part(random), 0});
  return out;
}

/// Every plan of readings: grids of 3 x 3 to 9 x 9, and scattered ones as many.
std::vector<Readings> plans(int fewest) {
  std::mt19937 random(5);
  std::vector<Readings> out;
  for (int n = fewest; n <= 9; ++n) {
    out.push_back(grid(n));
    if (n > 3)
      out.push_back(scattered(n * n, random));
  }
  return out;
}

Readings bed(Readings places, const Height& height, double scatter, std::mt19937& random) {
  std::uniform_real_distribution<double> noise(-scatter, scatter);
  for (Vec3& p : places)
    p.z = 0.4 + height(u_of(p), v_of(p)) + (scatter > 0 ? noise(random) : 0);
  return places;
}

bool has_cause(const Flatness& f, const std::string& code) {
  return std::any_of(f.likely_causes.begin(), f.likely_causes.end(),
                     [&](const Notice& n) { return n.code == code; });
}

/// Within 10 % or 0.01 mm of what is in the readings; scatter adds its own share.
bool tells(std::optional<double> told, double made, double scatter = 0) {
  return told && std::fabs(*told - made) <= std::max(0.1 * std::fabs(made), 0.01) + scatter;
}

std::string words(const Flatness& f) {
  std::string out;
  for (const Notice& n : f.likely_causes)
    out += n.code + ": " + n.text + "\n";
  return out;
}

} // namespace

TEST_CASE("plane, crown, dip and twist are told with their size on every plan of readings") {
  std::mt19937 random(1);
  for (const Readings& plan : plans(3))
    for (const double scatter : {0.0, 0.01})
      for (int round = 0; round < 5; ++round) {
        CAPTURE(plan.size());
        CAPTURE(scatter);
        CAPTURE(round);
        const auto judged = [&](const Height& h) {
          return judge_flatness(bed(plan, h, scatter, random));
        };
        const Flatness plane = judged([](double u, double v) { return 0.15 * u - 0.1 * v; });
        INFO(words(plane));
        CHECK(tells(plane.shape.rise_x_mm, 0.3));
        CHECK(tells(plane.shape.rise_y_mm, -0.2));
        CHECK(plane.likely_causes.front().code == "tilt");
        const Flatness crown = judged([](double u, double) { return 0.2 * (1 - u * u); });
        CHECK(tells(crown.shape.crown_x_mm, 0.2));
        CHECK(crown.likely_causes.front().code == "crown");
        const Flatness dip = judged(
            [](double u, double v) { return 0.2 * (u * u - 1) + 0.15 * (v * v - 1) + 0.05 * u; });
        CHECK(tells(dip.shape.crown_x_mm, -0.2));
        CHECK(tells(dip.shape.crown_y_mm, -0.15));
        CHECK(has_cause(dip, "dip"));
        const Flatness twist = judged([](double u, double v) { return 0.1 * u * v; });
        CHECK(tells(twist.shape.twist_mm, 0.2));
        CHECK(twist.likely_causes.front().code == "twist");
        for (const Flatness* f : {&plane, &crown, &dip, &twist}) {
          CHECK(f->shape.lone.empty());
          CHECK(f->shape.steps.empty());
          CHECK_FALSE(f->shape.ridges);
        }
      }
}

TEST_CASE("one reading that stands alone is told with its height, wherever it is") {
  // 0.2 mm in the middle of 3 x 3 was told as a crown of 0.02 to 0.2, 0.3 mm as nothing at all.
  for (const double made : {0.3, 0.2, -0.25})
    for (const double scatter : {0.0, 0.01})
      for (const Height& under : {Height([](double, double) { return 0.0; }),
                                  Height([](double u, double v) { return 0.1 * u + 0.05 * v; }),
                                  Height([](double u, double) { return 0.1 * (1 - u * u); })}) {
        std::mt19937 random(2);
        const bool curved =
            std::fabs(under(0, 0) - under(1, 0) - under(-1, 0) + under(0, 0)) > 0.01;
        for (const Readings& plan : plans(curved ? 5 : 3))
          for (std::size_t at = 0; at < plan.size(); at += by_build(1u, 7u)) {
            Readings readings = bed(plan, under, scatter, random);
            readings[at].z += made;
            const double in_data = readings[at].z - 0.4 - under(u_of(plan[at]), v_of(plan[at]));
            const Flatness f = judge_flatness(readings);
            CAPTURE(made);
            CAPTURE(scatter);
            CAPTURE(curved);
            CAPTURE(plan.size());
            CAPTURE(at);
            INFO(words(f));
            REQUIRE(f.shape.lone.size() == 1);
            CHECK(f.shape.lone[0].at.x == plan[at].x);
            CHECK(f.shape.lone[0].at.y == plan[at].y);
            CHECK(tells(f.shape.lone[0].height_mm, in_data));
            CHECK(has_cause(f, "lone-reading"));
            CHECK(tells(f.shape.crown_x_mm, curved ? 0.1 : 0.0, scatter));
            CHECK(f.shape.steps.empty());
          }
      }
}

TEST_CASE("scatter of 0.02 mm makes no bump, no step and no ridges") {
  std::mt19937 random(3);
  std::normal_distribution<double> noise(0, 0.02);
  int beds = 0, found = 0;
  const int rounds = by_build(40, 4);
  for (int round = 0; round < rounds; ++round)
    for (const Readings& plan : plans(3))
      for (const Height& smooth :
           {Height([](double, double) { return 0.0; }),
            Height([](double u, double v) { return 0.2 * u - 0.1 * v; }),
            Height([](double u, double v) { return 0.15 * (1 - u * u) + 0.1 * (1 - v * v); }),
            Height([](double u, double v) { return 0.15 * u * v; })}) {
        Readings readings = bed(plan, smooth, 0, random);
        for (Vec3& p : readings)
          p.z += noise(random);
        const BedShape s = bed_shape(readings);
        ++beds;
        found += !s.lone.empty() || !s.steps.empty() || s.ridges;
        if (!s.lone.empty() || !s.steps.empty() || s.ridges)
          MESSAGE(plan.size() << " readings, lone " << s.lone.size() << " steps " << s.steps.size()
                              << " ridges " << s.ridges.has_value());
      }
  CHECK(beds == rounds * 13 * 4);
  CHECK(found == 0);
}

TEST_CASE("a step between boards is a step, not a rise") {
  // 0.15 mm: the plane through it rises 0.208 and was told.
  std::mt19937 random(4);
  for (const double scatter : {0.0, 0.01})
    for (const bool along : {true, false})
      for (const double made : {0.15, -0.15})
        for (const Readings& plan : plans(5))
          for (const double at : {-0.3, 0.1, 0.4}) {
            const double tilt = 0.02;
            const Readings readings = bed(
                plan,
                [&](double u, double v) { return tilt * u + ((along ? u : v) > at ? made : 0); },
                scatter, random);
            const Flatness f = judge_flatness(readings);
            CAPTURE(plan.size());
            CAPTURE(at);
            CAPTURE(along);
            CAPTURE(scatter);
            INFO(words(f));
            REQUIRE(f.shape.steps.size() == 1);
            CHECK(f.shape.steps[0].along_x == along);
            CHECK(tells(f.shape.steps[0].height_mm, made, scatter));
            CHECK(f.likely_causes.front().code == "step");
            CHECK(f.shape.lone.empty());
            if (scatter == 0) {
              CHECK(tells(f.shape.rise_x_mm, 2 * tilt));
              CHECK(tells(f.shape.rise_y_mm, 0));
            }
          }
}

TEST_CASE("saw-tooth, triangle and sine are told with their height, crest to valley") {
  // A saw-tooth of 0.06 was told as 0.04: its first sine is 2 / pi of it (Fourier).
  const auto saw = [](double a) { return a - std::floor(a); };
  struct Kind {
    const char* name;
    std::function<double(double)> wave; ///< of the waves passed, from 0 to 1 high
  };
  const Kind kinds[] = {
      {"saw-tooth", saw},
      {"saw-tooth the other way", [&](double a) { return 1 - saw(a); }},
      {"triangle", [&](double a) { return std::fabs(2 * saw(a) - 1); }},
      {"sine", [](double a) { return 0.5 + 0.5 * std::sin(2 * std::acos(-1.0) * a); }}};
  std::mt19937 random(6);
  for (const Kind& kind : kinds)
    for (const double scatter : {0.0, 0.01})
      for (const int rows : {31, 61})
        for (const double waves : {4.0, 5.3, 6.0}) {
          Readings places;
          for (int j = 0; j < 5; ++j)
            for (int i = 0; i < rows; ++i)
              places.push_back({kWide_mm * i / (rows - 1), kDeep_mm * j / 4, 0});
          FlatnessOptions options;
          options.stepover_mm = kWide_mm / waves;
          const Flatness f =
              judge_flatness(bed(
                                 places,
                                 [&](double u, double v) {
                                   return 0.05 * v + 0.06 * kind.wave(waves * (u + 1) / 2 + 0.137);
                                 },
                                 scatter, random),
                             options);
          if (scatter > 0 && std::string(kind.name) == "triangle")
            continue; // its sine explains 0.985 of it: no one can tell them apart in scatter
          CAPTURE(std::string(kind.name));
          CAPTURE(rows);
          CAPTURE(waves);
          CAPTURE(scatter);
          INFO(words(f));
          REQUIRE(f.shape.ridges);
          CHECK(f.shape.ridges->along_x);
          CHECK(tells(f.shape.ridges->height_mm, 0.06));
          CHECK(f.shape.ridges->apart_mm == Approx(kWide_mm / waves).epsilon(0.05));
          CHECK(has_cause(f, "ridges"));
          CHECK(words(f).find("one stepover: the spindle is out of tram") != std::string::npos);
          CHECK(f.shape.lone.empty());
          CHECK(f.shape.steps.empty());
        }
}

TEST_CASE("two wrong readings, and a bump over several") {
  std::mt19937 random(7);
  Readings two = bed(
      grid(9), [](double u, double) { return 0.05 * u; }, 0.01, random);
  two[20].z += 0.3;
  two[21].z -= 0.2;
  const BedShape s = bed_shape(two);
  REQUIRE(s.lone.size() == 2);
  CHECK(tells(s.lone[0].height_mm, 0.3, 0.01));
  CHECK(tells(s.lone[1].height_mm, -0.2, 0.01));

  // Four readings high: no single one stands alone; its height and its place are told.
  Readings wide = bed(
      grid(9), [](double, double) { return 0.0; }, 0.01, random);
  for (const std::size_t i : {39u, 40u, 48u, 49u})
    wide[i].z += 0.2;
  const Flatness f = judge_flatness(wide);
  INFO(words(f));
  CHECK(f.shape.lone.empty());
  REQUIRE(has_cause(f, "local"));
  CHECK(f.shape.left_over_peak.height_mm > 0.15);
  CHECK(std::fabs(f.shape.left_over_peak.at.x - 262.5) <= 38);
}
