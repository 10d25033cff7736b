// Wood beside the pockets, up to the pocket face: it belongs to no pocket alone.
#include "check/job_folder.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

const std::string kOnBed = R"(
units = "mm"
trials = 400
limit = 0.8
[board]
thickness = 40
corner = [-110, -80]
size = [220, 160]
[side_a]
zero = "bed"
touch_point = [-120, 0]
touch_off = 0.001
[side_b]
zero = "bed"
touch_point = [-120, 0]
touch_off = 0.001
)";

/// Two pockets in a block; a groove of the skin comes up to 0.3 mm under the pocket face between
/// x 74 and 76, beside the second one.
struct Grooved : Folder {
  Grooved() {
    mesh("skin.stl",
         shapes::body_below({-100, -97, 72, 74, 76, 78, 97, 100}, {-50, -47, 47, 50},
                            [](double x, double) { return x >= 74 && x <= 76 ? -0.3 : -20.0; }));
    mesh("one.stl", shapes::box({-80, -30, -15}, {-20, 30, 0}));
    mesh("two.stl", shapes::box({0, -30, -15}, {60, 30, 0}));
  }
  CheckReport with(const std::string& one, const std::string& two) const {
    const auto pocket = [](const char* name, const std::string& more) {
      return fmt::format("[[part.pocket]]\nname = \"{0}\"\nmesh = \"{0}.stl\"\n{1}\n", name, more);
    };
    return checked(kOnBed +
                   "[[part]]\nname = \"p\"\nskin = \"skin.stl\"\n[part.placing]\n"
                   "units = \"mm\"\n" +
                   pocket("one", one) + pocket("two", two))
        .report;
  }
};

} // namespace

TEST_CASE("land is held against the strictest limit and rim that the pockets of its part state") {
  const Grooved block;
  const std::string rim = "rim = \"runs out\"\nrim_depth = 1";
  for (const auto& [one, two] : {std::pair<std::string, std::string>{"", ""},
                                 {"limit = 0.2", ""},
                                 {"", "limit = 0.2"},
                                 {rim, ""},
                                 {"", rim},
                                 {rim + "\nlimit = 0.2", ""}}) {
    CAPTURE(one);
    CAPTURE(two);
    const CheckReport report = block.with(one, two);
    CHECK(report.wall.verdict == Verdict::thin);
    CHECK(report.wall.least_wall.design_mm == Approx(0.3).epsilon(1e-6));
  }
  CHECK(block.with("limit = 0.2", "limit = 0.2").wall.verdict == Verdict::safe);
}

TEST_CASE("what a rim leaves out is told with the land over it") {
  const Grooved block;
  const std::string rim = "rim = \"runs out\"\nrim_depth = 1";
  bool told = false;
  for (const Notice& n : block.with(rim, rim).warnings)
    told = told || n.text.find("The least wall there is 0.300 mm as drawn") != std::string::npos;
  CHECK(told);
}

TEST_CASE("land is as thin as the reading of the bed under it makes it") {
  // 1 mm of land all round a tub, in large facets; one reading of 0.51 under it on side B.
  Folder plate;
  const auto inner = [](double v) { return v >= -45 && v <= 45; };
  plate.mesh("skin.stl", shapes::body_below({-151, -47, -45, 45, 47, 151},
                                            {-151, -47, -45, 45, 47, 151}, [&](double x, double y) {
                                              return inner(x) && inner(y) ? -20.0 : -1.0;
                                            }));
  plate.mesh("room.stl", shapes::box({-40, -40, -18}, {40, 40, 0}));
  std::string readings;
  for (int i = -9; i <= 9; ++i)
    for (int j = -9; j <= 9; ++j)
      readings += fmt::format("[{}, {}, {}],\n", 20 * i, 20 * j, i == -5 && j == 3 ? 0.51 : 0.0);
  std::string job = kOnBed;
  job.replace(job.find("[-110, -80]"), 11, "[-155, -170]");
  job.replace(job.find("[220, 160]"), 10, "[310, 340]");
  while (job.find("[-120, 0]") != std::string::npos)
    job.replace(job.find("[-120, 0]"), 9, "[-170, 0]");
  const CheckReport report =
      plate
          .checked(job + "[bed]\nseating = \"pressed\"\nreadings = [" + readings +
                   "]\n[[part]]\nskin = \"skin.stl\"\n[part.placing]\nunits = \"mm\"\n"
                   "[[part.pocket]]\nmesh = \"room.stl\"\nlimit = 0.5\n")
          .report;
  CHECK(report.wall.verdict == Verdict::thin);
  CHECK(report.wall.least_wall.expected_mm == Approx(1.0 - 0.51).epsilon(1e-6));
}
