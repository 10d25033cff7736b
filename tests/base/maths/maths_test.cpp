// Our functions against the system's in extended precision (glibc's `long double`, 64 bits on x86),
// and against values that are known by themselves.
#include "base/maths/angles.h"
#include "base/maths/erfc.h"
#include "base/maths/exp_log.h"
#include "base/maths/hypot.h"

#include <cmath>
#include <doctest/doctest.h>
#include <limits>
#include <numbers>
#include <random>

using namespace leastwall;

namespace {

/// Worst distance from `peer` over [low, high], in units of the last place.
template <class Ours, class Peer> double worst(Ours ours, Peer peer, double low, double high) {
  std::mt19937_64 numbers(7);
  std::uniform_real_distribution<double> any(low, high);
  long double most = 0;
  for (int i = 0; i < 100'000; ++i) {
    const double x = any(numbers);
    const long double right = peer(static_cast<long double>(x));
    const double size = std::abs(static_cast<double>(right));
    const double unit = std::nextafter(size, std::numeric_limits<double>::infinity()) - size;
    most = std::max(most, std::abs(static_cast<long double>(ours(x)) - right) / unit);
  }
  return static_cast<double>(most);
}

constexpr double kPi = std::numbers::pi;

} // namespace

TEST_CASE("maths: sines, cosines and angles within two units of the last place") {
  for (const auto& [low, high] : {std::pair{-1.0, 1.0}, {-7.0, 7.0}, {-9e5, 9e5}}) {
    CHECK(worst(
              maths::sin, [](long double x) { return std::sin(x); }, low, high) < 1);
    CHECK(worst(
              maths::cos, [](long double x) { return std::cos(x); }, low, high) < 1);
  }
  CHECK(worst(
            maths::tan, [](long double x) { return std::tan(x); }, -1.5, 1.5) < 3);
  CHECK(worst(
            maths::atan, [](long double x) { return std::atan(x); }, -0.2, 0.2) < 2);
  CHECK(worst(
            maths::atan, [](long double x) { return std::atan(x); }, -50, 50) < 2);
  CHECK(worst([](double y) { return maths::atan2(y, -0.7); },
              [](long double y) { return std::atan2(y, -static_cast<long double>(0.7)); }, -3,
              3) < 3);
  // Known by themselves.
  CHECK(maths::sin(0) == 0);
  CHECK(maths::cos(0) == 1);
  CHECK(maths::sin(kPi / 6) == doctest::Approx(0.5).epsilon(1e-15));
  CHECK(maths::cos(kPi) == -1);
  CHECK(maths::sin(kPi) == doctest::Approx(1.2246467991473532e-16).epsilon(1e-12)); // pi is rounded
  CHECK(maths::tan(kPi / 4) == doctest::Approx(1).epsilon(1e-15));
  CHECK(maths::atan(1) == kPi / 4);
  CHECK(maths::sin(-0.3) == -maths::sin(0.3));
  CHECK(std::isnan(maths::sin(std::numeric_limits<double>::infinity())));
  CHECK(std::isnan(maths::cos(std::nan(""))));
}

TEST_CASE("maths: atan2 at zeros and infinities is that of IEEE 754") {
  const double big = std::numeric_limits<double>::infinity();
  for (const double y : {0.0, -0.0, 1.0, -1.0, big, -big})
    for (const double x : {0.0, -0.0, 1.0, -1.0, big, -big}) {
      CAPTURE(y);
      CAPTURE(x);
      CHECK(maths::atan2(y, x) == doctest::Approx(std::atan2(y, x)).epsilon(1e-15));
      CHECK(std::signbit(maths::atan2(y, x)) == std::signbit(std::atan2(y, x)));
    }
  CHECK(std::isnan(maths::atan2(std::nan(""), 1)));
}

TEST_CASE("maths: exponentials and logarithms within two units of the last place") {
  CHECK(worst(
            maths::exp, [](long double x) { return std::exp(x); }, -1, 1) < 1.1);
  CHECK(worst(
            maths::exp, [](long double x) { return std::exp(x); }, -700, 700) < 1.1);
  CHECK(worst(
            maths::log, [](long double x) { return std::log(x); }, 0, 1) < 1);
  CHECK(worst(
            maths::log, [](long double x) { return std::log(x); }, 0.9, 1.1) < 1);
  CHECK(worst(
            maths::log, [](long double x) { return std::log(x); }, 0, 1e9) < 1);
  CHECK(worst(
            maths::log1p, [](long double x) { return std::log1p(x); }, -0.99, 1) < 2.5);
  CHECK(worst(
            maths::log1p, [](long double x) { return std::log1p(x); }, -1e-9, 1e-9) < 2.5);
  CHECK(maths::exp(0) == 1);
  CHECK(maths::exp(1) == doctest::Approx(std::numbers::e).epsilon(1e-15));
  CHECK(maths::exp(710) == std::numeric_limits<double>::infinity());
  CHECK(maths::exp(709.7) < std::numeric_limits<double>::infinity());
  CHECK(maths::exp(-800) == 0);
  CHECK(maths::log(1) == 0);
  CHECK(maths::log(8) == doctest::Approx(3 * std::numbers::ln2).epsilon(1e-15));
  CHECK(maths::log(5e-324) == doctest::Approx(-744.4400719213812).epsilon(1e-15)); // -1074 ln 2
  CHECK(maths::log(0) == -std::numeric_limits<double>::infinity());
  CHECK(std::isnan(maths::log(-1)));
  CHECK(maths::power(2, 10) == doctest::Approx(1024).epsilon(1e-14));
  CHECK(maths::power(0, 2.4) == 0);
  CHECK(maths::power(0, 0) == 1);
  CHECK(maths::power(0.25, -0.5) == doctest::Approx(2).epsilon(1e-15));
  CHECK(maths::whole_power(10, 6) == 1e6);
  CHECK(maths::whole_power(3, 0) == 1);
}

TEST_CASE("maths: erfc against the system's, and against the share of a normal distribution") {
  for (const auto& [low, high] : {std::pair{-0.47, 0.47}, {-5.0, 0.0}, {0.4, 4.0}, {4.0, 25.0}})
    CHECK(worst(
              maths::erfc, [](long double x) { return std::erfc(x); }, low, high) < 12);
  CHECK(maths::erfc(0) == 1);
  CHECK(maths::erfc(30) == 0);
  CHECK(maths::erfc(-30) == 2);
  // 1.959964 sigma leave 2.5 % on either side (any table of the normal distribution).
  CHECK(maths::erfc(1.959963984540054 / std::numbers::sqrt2) ==
        doctest::Approx(0.05).epsilon(1e-13));
}

TEST_CASE("maths: hypot within two units of the last place") {
  CHECK(maths::hypot(3, 4) == 5);
  CHECK(maths::hypot(0, -2) == 2);
  CHECK(worst([](double x) { return maths::hypot(x, 0.6); },
              [](long double x) { return std::hypot(x, static_cast<long double>(0.6)); }, -9,
              9) < 1.5);
}
