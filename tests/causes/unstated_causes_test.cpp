#include "causes/unstated_causes.h"

#include "base/assumption.h"
#include "causes/causes.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>

using namespace leastwall;

namespace {

const Cause* find(const std::vector<Cause>& causes, CauseKind kind, std::optional<Side> side) {
  const auto at = std::ranges::find_if(
      causes, [&](const Cause& c) { return c.id.kind == kind && (!side || c.id.side == side); });
  return at == causes.end() ? nullptr : &*at;
}

std::vector<Cause> stated_causes(const Setup& setup) {
  std::vector<Assumption> unused;
  return causes_of(setup, unused);
}

} // namespace

TEST_CASE("what no one stated acts as it would if it were stated") {
  Setup setup;
  setup.inner.touch_off = {0.05, Knowledge::limits};
  setup.outer.sanding_mm = 0.04;
  setup.bed.flatness_mm = 0.1;
  setup.board.footprint = Footprint{{-60, -40}, {60, 40}};
  setup.outer.touch_point = Point2{-50, -30};
  const std::vector<Cause> stated = stated_causes(setup);
  const std::vector<Cause> more = unstated_causes(setup, stated);
  for (const Cause& c : more) {
    CHECK(c.size > 0);
    CHECK_FALSE(c.field);
    CHECK(std::ranges::find(stated, c.id, &Cause::id) == stated.end());
    CHECK(std::ranges::count(more, c.id, &Cause::id) == 1);
  }
  // What is stated is none of them.
  CHECK(find(more, CauseKind::touch_off, Side::a) == nullptr);
  CHECK(find(more, CauseKind::sanding, Side::b) == nullptr);
  CHECK(find(more, CauseKind::bed_flatness, std::nullopt) == nullptr);
  CHECK(find(more, CauseKind::swelling, std::nullopt) == nullptr); // no one knows the wood
  const WallSample p{{10, 20, -5}, {0.6, 0, -0.8}, 1.0};
  // Sanding takes wood along the normal, runout what lies sideways, both make the wall thinner.
  const Cause* sanding = find(more, CauseKind::sanding, Side::a);
  const Cause* runout = find(more, CauseKind::runout, Side::b);
  const Cause* touch = find(more, CauseKind::touch_off, Side::b);
  REQUIRE(sanding != nullptr);
  REQUIRE(runout != nullptr);
  REQUIRE(touch != nullptr);
  CHECK(sanding->sensitivity(p) == doctest::Approx(-1));
  CHECK(runout->sensitivity(p) == doctest::Approx(-0.6));
  CHECK(std::abs(touch->sensitivity(p)) == doctest::Approx(0.8)); // the cosine of the slope
  // Stated, they are the same causes: identity (it seeds the draws), distribution, sensitivity.
  setup.inner.sanding_mm = 0.01;
  setup.outer.touch_off = {0.02, Knowledge::limits};
  setup.board.resin_cup_mm = 0.3;
  setup.flip.out_of_square_mm_per_m = 0.1;
  const std::vector<Cause> then = stated_causes(setup);
  std::size_t found = 0;
  for (const Cause& c : then)
    if (const auto at = std::ranges::find(more, c.id, &Cause::id); at != more.end()) {
      ++found;
      CHECK(at->distribution == c.distribution);
      CHECK(at->unit == c.unit);
      CHECK(at->sensitivity(p) == doctest::Approx(c.sensitivity(p)));
    }
  CHECK(found == 4);
}

TEST_CASE("a roughing bit keeps out what would change how it acts, a species lets swelling in") {
  Setup setup;
  setup.outer.roughing = Roughing{0.2, Uncertain{0.05, Knowledge::limits}};
  setup.board.swelling_per_percent = 0.002;
  setup.board.assumed_thickness_mm = 20;
  const std::vector<Cause> more = unstated_causes(setup, stated_causes(setup));
  CHECK(find(more, CauseKind::touch_off, Side::b) == nullptr);
  CHECK(find(more, CauseKind::tip_height, Side::b) == nullptr);
  CHECK(find(more, CauseKind::touch_off, Side::a) != nullptr);
  CHECK(find(more, CauseKind::roughing, std::nullopt) == nullptr);
  CHECK(find(more, CauseKind::swelling, std::nullopt) != nullptr);
}
