// Rounding to single precision against IEEE 754 (binary32: 24 bits).
#include "space/single.h"

#include <cmath>
#include <cstring>
#include <doctest/doctest.h>
#include <initializer_list>
#include <utility>

using namespace leastwall;

TEST_CASE("the nearest number of 24 bits, halves to even, all three coordinates") {
  const double ulp = std::ldexp(1.0, -23); // of numbers from 1 to 2
  CHECK(in_single(1 + 0.49 * ulp) == 1);
  CHECK(in_single(1 + 0.51 * ulp) == 1 + ulp);
  CHECK(in_single(1 + 0.5 * ulp) == 1);
  CHECK(in_single(1 + 1.5 * ulp) == 1 + 2 * ulp);
  for (int i = 0; i < 100; ++i) {
    const Vec3 v{std::sqrt(2.3 + i), -std::sqrt(300.3 + i), std::sqrt(7.3 + i)};
    const Vec3 s = in_single(v);
    for (const auto& [a, b] : {std::pair{v.x, s.x}, {v.y, s.y}, {v.z, s.z}}) {
      CHECK(a != b);
      CHECK(std::abs(a - b) <= std::ldexp(std::abs(a), -24));
      float bits = 0; // what a file holds of it
      const float single = static_cast<float>(b);
      std::memcpy(&bits, &single, sizeof bits);
      CHECK(static_cast<double>(bits) == b);
    }
  }
}
