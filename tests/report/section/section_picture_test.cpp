// What the picture of a section says, read back from the words that a picture carries.
#include "report/section/section_picture.h"

#include "base/errors.h"
#include "support/shapes.h"

#include <doctest/doctest.h>
#include <string>

using namespace leastwall;

TEST_CASE("the picture of a section names wall, limit and place, in both units") {
  MeasureOptions options;
  options.ceiling_mm = 3;
  const WallMeasurement m = measure_wall(shapes::box({-20, -20, -6}, {20, 20, 0}),
                                         shapes::box({-25, -25, -7}, {25, 25, 0}), options, {});
  CheckReport report;
  report.title = "box in a box";
  report.wall.limit_mm = 0.8;
  std::vector<double> expected, worst;
  for (const WallSample& s : m.skin.samples) {
    expected.push_back(s.wall_mm - 0.05);
    worst.push_back(s.wall_mm - 0.3);
  }
  std::size_t floor = 0; // under the pocket's own floor
  while (length(m.skin.samples[floor].at - Vec3{3, 4, -7}) > 4)
    ++floor;
  const SectionPictureInput input{m, expected, worst, floor, report};
  const std::string png = draw_section_picture(input, false);
  const auto has = [](const std::string& in, const char* words) {
    return in.find(words) != std::string::npos;
  };
  // 7 - 6 mm, and what was taken off above.
  for (const char* words : {"box in a box", "1.000 mm", "0.950 mm", "0.700 mm", "0.800 mm",
                            "pocket", "outside", "never a guarantee"})
    CHECK_MESSAGE(has(png, words), std::string(words));
  CHECK(draw_section_picture(input, false) == png);
  CHECK(has(draw_section_picture(input, true), "0.0394 in (1.000 mm)")); // 1 / 25.4
  CHECK_THROWS_AS(draw_section_picture({m, expected, worst, m.skin.samples.size(), report}, false),
                  RunError);
}
