#include "bed/bed_sag.h"

#include "base/errors.h"

#include <cmath>
#include <doctest/doctest.h>
#include <vector>

using namespace leastwall;
using doctest::Approx;

namespace {

/// An MDF strip 600 mm wide, 18 mm thick, 600 mm between supports.
BedStrip mdf_strip() {
  return {600, 600, 18, {3590, 770, {}, 0.3}, false, false, false};
}

BedSag sag(const BedStrip& strip, BedLoad load) {
  return bed_sag(strip, std::vector<BedLoad>{load});
}
BedSag sag(const BedPlate& plate, BedLoad load) {
  return bed_sag(plate, std::vector<BedLoad>{load});
}

// Maple 400 x 300 x 50 mm at 705.6 kg/m3.
const double kSlab_n = 705.6 * 0.4 * 0.3 * 0.05 * kGravity;

BedPlate unit_plate(double ratio) {
  // Thickness and stiffness such that D = 1 with nu = 0.3, short side 1.
  BedPlate p{ratio, 1, 1, {12 * (1 - 0.09), 0, {}, 0.3}, false, 50, false};
  return p;
}

} // namespace

TEST_CASE("beam coefficients of Wood Handbook Table 9-1") {
  // FPL-GTR-282 Eq. 9-1: d = kb W L^3 / (E I) + ks W L / (G A'), A' = 5/6 b h.
  struct Row {
    bool clamped;
    double patch; // of the span
    double kb, ks;
  };
  for (const Row& row : {Row{false, 1, 5.0 / 384, 1.0 / 8}, Row{true, 1, 1.0 / 384, 1.0 / 8},
                         Row{false, 0, 1.0 / 48, 1.0 / 4}, Row{true, 0, 1.0 / 192, 1.0 / 4}}) {
    BedStrip s = mdf_strip();
    s.clamped_ends = row.clamped;
    s.material.shear_mpa = 180;
    const double w = 37, l = s.span_mm, ei = 3590.0 * 600 * 18 * 18 * 18 / 12;
    const double ga = 180.0 * 5 / 6 * 600 * 18;
    const BedLoad load{w, row.patch * l, 0};
    CHECK(sag(s, load).largest_mm == Approx(row.kb * w * l * l * l / ei).epsilon(1e-10));
    s.with_shear = true;
    CHECK(sag(s, load).largest_mm ==
          Approx(row.kb * w * l * l * l / ei + row.ks * w * l / ga).epsilon(1e-10));
    CHECK(sag(s, load).at_x_mm == Approx(0).epsilon(1e-6));
  }
}

TEST_CASE("an MDF strip under itself and under a maple slab") {
  // Worked with Eq. 9-1 and the closed form of a central patch, W(8L^3 - 4Lc^2 + c^3)/(384EI).
  BedStrip s = mdf_strip();
  CHECK(own_weight(s).weight_n / 600 == Approx(0.0815521).epsilon(1e-6)); // N per mm
  CHECK(sag(s, own_weight(s)).largest_mm == Approx(0.131461).epsilon(1e-5));
  CHECK(kSlab_n == Approx(41.51743).epsilon(1e-6));
  CHECK(sag(s, {kSlab_n, 600, 0}).largest_mm == Approx(0.111543).epsilon(1e-5));
  CHECK(sag(s, {kSlab_n, 0, 0}).largest_mm == Approx(0.178468).epsilon(1e-5));
  CHECK(sag(s, {kSlab_n, 400, 0}).largest_mm == Approx(0.145419).epsilon(1e-5));
  s.clamped_ends = true;
  CHECK(sag(s, {kSlab_n, 600, 0}).largest_mm == Approx(0.0223085).epsilon(1e-5));
  s.clamped_ends = false;
  s.with_shear = true; // G = E/16
  CHECK(sag(s, {kSlab_n, 600, 0}).largest_mm - 0.111543 == Approx(0.001542).epsilon(1e-3));
}

TEST_CASE("a support in the middle makes two spans") {
  // Two equal spans under an even load: largest deflection (39 + 55 sqrt 33)/65536 w l^4/(EI) at
  // (1 + sqrt 33)/16 l from the outer end.
  BedStrip s = mdf_strip();
  s.centre_support = true;
  const BedSag out = sag(s, {kSlab_n, 600, 0});
  CHECK(out.largest_mm == Approx(0.00289982).epsilon(1e-5));
  CHECK(out.middle_mm == 0.0);
  CHECK(std::fabs(out.at_x_mm) == Approx(300 - (1 + std::sqrt(33.0)) / 16 * 300).epsilon(1e-5));
  BedStrip free = mdf_strip();
  CHECK(sag(free, {kSlab_n, 600, 0}).largest_mm / out.largest_mm == Approx(38.4654).epsilon(1e-5));
  // A load over the support alone does not bend the bed at all.
  CHECK(sag(s, {kSlab_n, 0, 0}).largest_mm == Approx(0).epsilon(1e-12));
  // Clamped outer ends: each span is clamped at both ends, w l^4/(384 EI).
  s.clamped_ends = true;
  const double ei = 3590.0 * 600 * 18 * 18 * 18 / 12;
  CHECK(sag(s, {kSlab_n, 600, 0}).largest_mm ==
        Approx(kSlab_n / 600 * std::pow(300, 4) / 384 / ei).epsilon(1e-9));
}

TEST_CASE("loads add up") {
  const BedStrip s = mdf_strip();
  const std::vector<BedLoad> both{own_weight(s), {kSlab_n, 400, 0}};
  CHECK(bed_sag(s, both).largest_mm == Approx(0.131461 + 0.145419).epsilon(1e-5));
  CHECK(bed_sag(s, std::vector<BedLoad>{}).largest_mm == 0.0);
}

TEST_CASE("plates against Navier's series and Roark's table") {
  // Roark's Formulas for Stress and Strain, Table 11.4 cases 1a and 1b (nu 0.3, coefficients of
  // q b^4/(E t^3), printed values up to 0.5 % off the series), and the exact series (q b^4/D).
  struct Row {
    double ratio, roark_even, roark_point, even, point;
  };
  const Row rows[] = {{1, .0444, .1267, .004062, .011601},   {1.2, .0616, .1478, .005651, .013556},
                      {1.4, .0770, .1621, .007085, .014867}, {1.6, .0906, .1715, .008308, .015701},
                      {1.8, .1017, .1770, .009316, .016215}, {2, .1110, .1805, .010129, .016524}};
  for (const Row& row : rows) {
    CAPTURE(row.ratio);
    const BedPlate p = unit_plate(row.ratio);
    const double even = sag(p, {row.ratio, row.ratio, 1}).largest_mm; // q = 1
    const double point = sag(p, {1, 0, 0}).largest_mm;
    CHECK(even == Approx(row.even).epsilon(1e-3));
    CHECK(point == Approx(row.point).epsilon(1e-3));
    CHECK(even * 10.92 == Approx(row.roark_even).epsilon(0.006));
    CHECK(point * 10.92 == Approx(row.roark_point).epsilon(0.006));
  }
  CHECK(sag(unit_plate(3), {3, 3, 1}).largest_mm == Approx(.012233).epsilon(1e-3));
  CHECK(sag(unit_plate(5), {5, 5, 1}).largest_mm == Approx(.012971).epsilon(1e-3));
}

TEST_CASE("an MDF plate 600 x 600 x 18 mm") {
  BedPlate p{600, 600, 18, {3590, 770, {}, 0.3}, false, 50, false};
  CHECK(sag(p, own_weight(p)).largest_mm == Approx(0.037323).epsilon(1e-4));
  CHECK(sag(p, {kSlab_n, 0, 0}).largest_mm == Approx(0.090434).epsilon(1e-4));
  CHECK(sag(p, {kSlab_n, 600, 600}).largest_mm == Approx(0.031668).epsilon(1e-4));
  // A patch lies between a point and an even load.
  const double patch = sag(p, {kSlab_n, 400, 300}).largest_mm;
  CHECK(patch < 0.090434);
  CHECK(patch > 0.031668);
  // A post in the middle carries it.
  p.centre_support = true;
  const BedSag held = sag(p, own_weight(p));
  CHECK(held.largest_mm < 0.037323 / 5);
  CHECK(held.largest_mm > 0);
  CHECK(std::hypot(held.at_x_mm, held.at_y_mm) > 100);
  CHECK(std::fabs(held.middle_mm) < 1e-4);
}

TEST_CASE("shear of a thick plate") {
  // Mindlin plate, square, even load, thickness a tenth of the side, nu 0.3, shear factor 5/6:
  // 0.00427 q a^4/D (Wang, Reddy and Lee, Shear Deformable Beams and Plates, 2000; from memory).
  const double e = 12 * (1 - 0.09) * 1000; // D = 1 at t = 0.1
  BedPlate p{1, 1, 0.1, {e, 0, e / 2.6, 0.3}, false, 50, true};
  CHECK(sag(p, {1, 1, 1}).largest_mm == Approx(0.00427).epsilon(0.002));
}

TEST_CASE("the panel table and what may be overridden") {
  // Wood Handbook Table 12-1.
  const BedMaterial mdf = panel_material("mdf");
  CHECK(mdf.stiffness_mpa == 3590);
  CHECK(mdf.density_kg_m3 == 900);
  CHECK(panel_material("Plywood").stiffness_mpa == 6960);
  CHECK(panel_kinds().size() == 6);
  CHECK_THROWS_WITH_AS(panel_material("granite"), doctest::Contains("known are MDF, hardboard"),
                       InputError);
  BedStrip s = mdf_strip();
  s.material = mdf;
  s.material.density_kg_m3 = 770;
  CHECK(sag(s, own_weight(s)).largest_mm == Approx(0.131461).epsilon(1e-5));
}

TEST_CASE("beds and loads that cannot be") {
  BedStrip s = mdf_strip();
  CHECK_THROWS_AS(sag(s, {10, 700, 0}), InputError);
  CHECK_THROWS_AS(sag(s, {-1, 0, 0}), InputError);
  s.thickness_mm = 0;
  CHECK_THROWS_AS(sag(s, {10, 0, 0}), InputError);
  BedPlate p{600, 600, 18, {3590, 770, {}, 0.5}, false, 50, false};
  CHECK_THROWS_AS(sag(p, {10, 0, 0}), InputError);
}
