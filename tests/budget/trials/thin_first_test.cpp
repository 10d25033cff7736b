#include "budget/trials/thin_first.h"

#include "budget/budget_support.h"

#include <doctest/doctest.h>
#include <random>

using namespace leastwall;
using namespace leastwall::test;

TEST_CASE("the first of many samples are all that are thinner than they say; of few they are all") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> any(-1, 4);
  std::vector<WallSample> samples;
  for (int i = 0; i < 30000; ++i)
    samples.push_back(flat_sample(i % 100, i / 100, any(random)));
  const ThinFirst many(samples);
  CHECK_FALSE(many.few());
  CHECK(many.first().size() > 1000);
  CHECK(many.first().size() < samples.size() / 2);
  std::size_t thinner = 0;
  for (const WallSample& s : samples)
    thinner += s.wall_mm < many.first_to_mm() ? 1 : 0;
  CHECK(thinner == many.first().size());
  for (const WallSample& s : many.first())
    CHECK(s.wall_mm < many.first_to_mm());
  const std::vector<WallSample> under = many.under(2);
  std::size_t at = 0; // in their order, none twice
  for (const WallSample& s : samples)
    if (s.wall_mm < 2) {
      REQUIRE(at < under.size());
      CHECK(under[at++].at == s.at);
    }
  CHECK(at == under.size());
  CHECK(many.places().at.low == Vec3{0, 0, -19});
  CHECK(many.places().at.high == Vec3{99, 299, -19});
  double thickest = 0;
  for (const WallSample& s : samples)
    thickest = std::max(thickest, std::abs(s.wall_mm));
  CHECK(many.places().most_wall_mm == thickest);

  const ThinFirst small(std::span<const WallSample>(samples).first(500));
  CHECK(small.few());
  CHECK(small.first().size() == 500);
  // Where all are equally thin none is first.
  const std::vector<WallSample> plate(30000, flat_sample(1, 2, 0.7));
  CHECK(ThinFirst(plate).few());
}
