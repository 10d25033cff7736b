#include "report/words/cause_text.h"

#include <doctest/doctest.h>
#include <set>

using namespace leastwall;

TEST_CASE("causes in shop words: the side where it belongs, every kind another name") {
  CHECK(cause_text({CauseKind::touch_off, Side::a}) == "touch-off");
  CHECK(cause_text_with_side({CauseKind::touch_off, Side::a}) == "touch-off of side A");
  CHECK(cause_text_with_side({CauseKind::bed_flatness, Side::b}) == "bed flatness under side B");
  CHECK(cause_text_with_side({CauseKind::bed_seat, Side::a}) == "bed under side A");
  CHECK(cause_text_with_side({CauseKind::sanding, Side::b}) == "sanding, side B");
  CHECK(cause_text_with_side({CauseKind::flip_line}) == "flip line");
  CHECK(cause_text_with_side({CauseKind::touch_off, Side::b, 0, true}) ==
        "touch-off of side B, in the pad");
  CHECK(cause_text_short({CauseKind::tool_setter, Side::b, 1}) == "tool setter, finishing bit, B");
  CHECK(cause_text_short({CauseKind::dowel_play, {}, 2}) == "play of dowel 2");
  std::set<std::string> names;
  constexpr int kKinds = 24;
  for (int k = 0; k < kKinds; ++k)
    names.insert(cause_text({static_cast<CauseKind>(k), Side::a}));
  CHECK(names.size() == kKinds);
  CHECK(names.count("") == 0);
}

TEST_CASE("what is known, in words, for every distribution") {
  CauseRow c;
  c.size = 0.05;
  c.unit = "mm";
  c.distribution = Distribution::rectangle;
  CHECK(known_text(c) == "+-0.050 mm");
  CHECK(known_words(c) == "+-0.050 mm");
  c.distribution = Distribution::normal;
  CHECK(known_text(c) == "u 0.050 mm");
  CHECK(known_words(c) == "standard 0.050 mm");
  c.distribution = Distribution::shift;
  CHECK(known_text(c) == "+0.050 mm");
  c.unit.clear();
  CHECK(known_text(c) == "from readings");
  c.unit = "mm/m";
  c.distribution = Distribution::half_uniform;
  CHECK(known_text(c) == "0 to 0.050 mm/m");
  c.distribution = Distribution::disc;
  CHECK(known_text(c) == "0.050 mm/m any way");
  c.unit = "mm";
  c.distribution = Distribution::rectangle;
  c.allowance_mm = 0.2;
  CHECK(known_text(c) == "+-0.050 mm, 0.200 mm left on");
  c.distribution = Distribution::normal;
  CHECK(known_text(c) == "u 0.050 mm, 0.200 mm left on");
}
