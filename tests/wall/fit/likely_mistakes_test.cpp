// Each slip is named for what it is, and good pairs are left alone.
#include "wall/fit/likely_mistakes.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

std::string code(const Box& pocket, const Box& skin) {
  const auto notices = likely_mistakes(pocket, skin);
  return notices.empty() ? "" : notices[0].code;
}

const Box skin{{-90, -49, -42}, {94, 49, 0}}, pocket{{-83, -46, -39}, {83, 46, 0}};

Box times(const Box& b, double f) {
  return {b.low * f, b.high * f};
}

} // namespace

TEST_CASE("a pocket in its skin, a taller plug, a small pocket and two sheets are fine") {
  CHECK(code(pocket, skin) == "");
  CHECK(code({{-83, -46, -39}, {83, 46, 6}}, skin) == "");
  CHECK(code({{-20, -20, -20}, {10, 10, 0}}, skin) == "");
  CHECK(code({{-80, -50, -6}, {80, 50, 0}}, {{-80, -50, -8}, {80, 50, -6.5}}) == "");
}

TEST_CASE("inch in one file and mm in the other, both ways; metres") {
  CHECK(code(times(pocket, 1 / 25.4), skin) == "pocket-unit");
  CHECK(code(pocket, times(skin, 1 / 25.4)) == "skin-unit");
  CHECK(code(times(pocket, 1 / 1000.0), skin) == "pocket-unit");
  CHECK(likely_mistakes(times(pocket, 1 / 25.4), skin)[0].text.find("inches") != std::string::npos);
}

TEST_CASE("swapped, on its side, apart, sticking out") {
  CHECK(code(skin, pocket) == "meshes-swapped");
  CHECK(code({{-80, -50, -8}, {80, 50, -6.5}}, {{-80, -50, -6}, {80, 50, 0}}) == "meshes-swapped");
  CHECK(code({{-83, -39, -46}, {83, 0, 46}}, skin) == "on-its-side");
  CHECK(code({{-1083, -46, -39}, {-917, 46, 0}}, skin) == "meshes-apart");
  CHECK(code({{-60, -46, -39}, {106, 46, 0}}, skin) == "pocket-outside");
}

TEST_CASE("one of two halves is the other hand") {
  const Box left{{-90, -49, -42}, {10, 49, 0}}, hole{{-83, -46, -39}, {5, 46, 0}};
  CHECK(code(hole, left) == "");
  CHECK(code({{-5, -46, -39}, {83, 46, 0}}, left) == "pocket-mirrored");
  const auto notice = likely_mistakes({{-5, -46, -39}, {83, 46, 0}}, left)[0];
  CHECK(notice.text.find("mirrored in x") != std::string::npos);
  const Box near{{-40, -60, -20}, {40, 5, 0}};
  CHECK(likely_mistakes({{-35, 0, -18}, {35, 55, 0}}, near)[0].text.find("mirrored in y") !=
        std::string::npos);
}

TEST_CASE("a stated pocket face that lies apart from the meshes") {
  for (const double z : {0.0, -0.5, 3.0, 41.9, -41.9})
    CHECK(stated_face_mistakes(z, pocket, skin).empty());
  for (const double z : {42.1, 100.0, -42.0, -900.0}) {
    CAPTURE(z);
    const auto notices = stated_face_mistakes(z, pocket, skin);
    REQUIRE(notices.size() == 1);
    CHECK(notices[0].code == "stated-face-apart");
    CHECK((notices[0].text.find("above the meshes, z -42.000 to 0.000 mm") != std::string::npos) ==
          (z > 0));
  }
}
