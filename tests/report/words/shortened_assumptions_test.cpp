// The short list holds every key and value of the long one (counted here by hand).
#include "report/words/shortened_assumptions.h"

#include <doctest/doctest.h>

using namespace leastwall;

namespace {

using Lines = std::vector<std::string>;

Assumption used(const std::string& key, const std::string& value) {
  return {value + " is used", key, value};
}

} // namespace

TEST_CASE("keys taken as zero and keys with a usual value become one line each") {
  CHECK(shortened_assumptions({used("trials", "20000"),
                               used("board.variation", "0 mm"),
                               used("side_a.sanding", "0 mm"),
                               used("side_a.bit.length_from", "\"datum\""),
                               used("side_b.sanding", "0 mm"),
                               used("side_b.bit.length_from", "\"datum\""),
                               {"The pocket face is taken at z = 0.000 mm."}}) ==
        Lines{"0 for board.variation, side_a/b.sanding",
              "20000 for trials, \"datum\" for side_a/b.bit.length_from",
              "The pocket face is taken at z = 0.000 mm."});
}

TEST_CASE("sides that differ stay apart, and so does a value that only begins with a zero") {
  CHECK(
      shortened_assumptions({used("side_a.sanding", "0 mm"), used("side_b.sanding", "0.05 mm")}) ==
      Lines{"0 for side_a.sanding", "0.05 mm for side_b.sanding"});
  CHECK(shortened_assumptions({used("side_b.bit.runout", "0 mm")}) ==
        Lines{"0 for side_b.bit.runout"});
}

TEST_CASE("what both sides leave out with the same outcome is told once") {
  CHECK(shortened_assumptions({{"no marks are left", "side_a.roughing"},
                               {"the bed is flat"},
                               {"no marks are left", "side_b.roughing"},
                               {"the top is taken", "side_b.zero"}}) ==
        Lines{"side_a/b.roughing: no marks are left", "the bed is flat",
              "side_b.zero: the top is taken"});
}

TEST_CASE("other lines are left as they are") {
  CHECK(shortened_assumptions({{"it is found from the meshes", "board.pocket_face_z"},
                               {"no error of the Z zero was stated (--z-zero): none is counted"},
                               {"0 mm is used: bits are exact", "side_a.bit.runout"}}) ==
        Lines{"board.pocket_face_z: it is found from the meshes",
              "no error of the Z zero was stated (--z-zero): none is counted",
              "side_a.bit.runout: 0 mm is used: bits are exact"});
  CHECK(shortened_assumptions({}).empty());
}

TEST_CASE(
    "a short report keeps what counts as 0, numbers and sentences, and leaves out what is usual") {
  const Assumption body{"The skin is a closed body.", {}, {}, true}, face{"The face is at 0."};
  const std::vector<Assumption> kept{used("side_a.sanding", "0 mm"),
                                     used("accepted_chance", "0.05"),
                                     {"taken to leave no marks", "side_a.roughing"},
                                     face};
  std::vector<Assumption> all = kept;
  all.insert(all.begin() + 1, {used("trials", "20000"),
                               used("seed", "1"),
                               used("bed.seating", "\"unknown\""),
                               body,
                               {"it is found from the meshes", "board.pocket_face_z"}});
  CHECK(telling_assumptions(all) == kept);
}
