#include "pour/pour_times.h"

#include <doctest/doctest.h>

using namespace leastwall;

TEST_CASE("lifts follow one another, stages wait for the slowest before them") {
  // Two rooms poured together: 3 lifts 24 h apart and 72 h to cure; 2 lifts 36 h apart and 96 h.
  const auto t = pour_times({{0, 3, 24.0, 72.0}, {0, 2, 36.0, 96.0}, {1, 1, std::nullopt, 48.0}});
  CHECK(t[0].lift_h == std::vector<std::optional<double>>{0.0, 24.0, 48.0});
  CHECK(t[0].may_be_cut_h == 120.0);
  CHECK(t[1].lift_h == std::vector<std::optional<double>>{0.0, 36.0});
  CHECK(t[1].may_be_cut_h == 132.0);
  CHECK(t[2].starts_h == 132.0);
  CHECK(t[2].lift_h == std::vector<std::optional<double>>{132.0});
  CHECK(t[2].may_be_cut_h == 180.0);
}

TEST_CASE("what is not stated stays unknown, and so does all that hangs from it") {
  const auto t = pour_times({{0, 2, std::nullopt, 72.0}, {1, 1, std::nullopt, 48.0}});
  CHECK(t[0].lift_h == std::vector<std::optional<double>>{0.0, std::nullopt});
  CHECK_FALSE(t[0].may_be_cut_h);
  CHECK_FALSE(t[1].starts_h);
  CHECK(t[1].lift_h == std::vector<std::optional<double>>{std::nullopt});
  const auto unknown = pour_times({{0, std::nullopt, 24.0, 72.0}});
  CHECK(unknown[0].starts_h == 0.0);
  CHECK(unknown[0].lift_h.empty());
  CHECK_FALSE(unknown[0].may_be_cut_h);
}
