#include "pour/components.h"

#include <doctest/doctest.h>

using namespace leastwall;
using doctest::Approx;

namespace {

Resin resin(double a, double b, bool by_weight) {
  Resin out;
  out.ratio = {a, b, by_weight};
  return out;
}

} // namespace

TEST_CASE("a ratio by volume needs no densities for the volumes") {
  const Amounts got = components(300'000, resin(2, 1, false));
  CHECK(*got.a_mm3 == Approx(200'000));
  CHECK(*got.b_mm3 == Approx(100'000));
  CHECK_FALSE(got.a_g);
  CHECK_FALSE(got.b_g);
  CHECK_FALSE(got.whole_g());
}

// 200 ml at 1.14 g/ml and 100 ml at 0.98 g/ml.
TEST_CASE("densities turn volumes into weights, each by itself") {
  Resin r = resin(2, 1, false);
  r.density_a = 1.14;
  Amounts got = components(300'000, r);
  CHECK(*got.a_g == Approx(228));
  CHECK_FALSE(got.b_g);
  r.density_b = 0.98;
  got = components(300'000, r);
  CHECK(*got.b_g == Approx(98));
  CHECK(*got.whole_g() == Approx(326));
  CHECK(other_ratio(r)->a == Approx(228.0 / 98));
  CHECK(other_ratio(r)->by_weight);
}

// 100 g of A at 1.2 g/ml take 83.3 ml, 50 g of B at 1.0 g/ml take 50 ml: 133.3 ml in all.
TEST_CASE("a ratio by weight: what fills the volume keeps the ratio on the scale") {
  Resin r = resin(100, 50, true);
  CHECK_FALSE(components(1000, r).a_mm3);
  CHECK_FALSE(components(1000, r).a_g);
  r.density_a = 1.2;
  CHECK_FALSE(components(1000, r).a_mm3);
  r.density_b = 1.0;
  const Amounts got = components(400'000, r);
  CHECK(*got.a_mm3 + *got.b_mm3 == Approx(400'000));
  CHECK(*got.a_g / *got.b_g == Approx(2));
  CHECK(*got.a_g == Approx(300));
  CHECK(*got.a_mm3 == Approx(250'000));
  CHECK(other_ratio(r)->a == Approx(250.0 / 150));
  CHECK_FALSE(other_ratio(r)->by_weight);
}

TEST_CASE("nothing is made up") {
  const Amounts none = components(1000, Resin{});
  CHECK_FALSE(none.a_mm3);
  CHECK_FALSE(none.a_g);
  CHECK_FALSE(other_ratio(resin(2, 1, false)));
}
