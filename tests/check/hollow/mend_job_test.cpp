// Pockets mended: what is written is read back and checked as a job is, and held against CGAL.
#include "check/hollow/mend_job.h"

#include "base/errors.h"
#include "check/hollow/mend_drawing.h"
#include "check/job_folder.h"
#include "hollow/pocket_body.h"
#include "mesh/load/load_mesh.h"
#include "peers/reference_library.h"
#include "report/mesh/stl_mesh.h"
#include "report/text/hollow_text.h"
#include "report/text/mend_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <numbers>
#include <random>
#include <set>
#include <tbb/global_control.h>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;

namespace {

std::string job_text(double limit, double thickness, double ball, const std::string& more = "") {
  return fmt::format(R"(
units = "mm"
limit = {}
trials = 1000
[board]
thickness = {}
[side_a]
zero = "top"
touch_off = 0.05
bit = {{ball_radius = {}}}
[side_b]
zero = "bed"
touch_off = 0.05
{}[[part]]
skin = "skin.stl"
[[part.pocket]]
name = "room"
mesh = "pocket.stl"
)",
                     limit, thickness, ball, more);
}

struct ToMend : Folder {
  std::variant<Mended, NothingToMend, NoPocket> mended(const std::string& text,
                                                       const std::string& pocket = "") const {
    const auto file = dir.path() / "job.toml";
    std::ofstream(file) << text;
    const JobWithPocket job =
        read_job_to_mend(file.string(), pocket, [](const std::filesystem::path&) {}, {}, {});
    return mend_job(job, {}, {});
  }
  /// The same job with the pocket as it was written.
  JobResult read_back(std::string text, const Mended& made,
                      const std::string& file = "pocket.stl") const {
    dir.file("mended.stl", stl_bytes(made.written));
    text.replace(text.find(file), file.size(), "mended.stl");
    return checked(text);
  }
  std::string picture(const std::string& text, const Mended& made) const {
    const auto file = dir.path() / "job.toml";
    std::ofstream(file) << text;
    return mend_drawing(
        read_job_to_mend(file.string(), "", [](const std::filesystem::path&) {}, {}, {}), made,
        false);
  }
};

/// A facet's corners as files hold them, the least corner first.
using Facet = std::array<std::array<float, 3>, 3>;

std::multiset<Facet> facets(const TriMesh& mesh) {
  std::multiset<Facet> out;
  for (const Tri& t : mesh.triangles) {
    Facet f;
    for (std::size_t i = 0; i < 3; ++i) {
      const Vec3 v = mesh.vertices[t[i]];
      f[i] = {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
    }
    std::rotate(f.begin(), std::ranges::min_element(f), f.end());
    out.insert(f);
  }
  return out;
}

std::vector<Facet> only_in_first(const TriMesh& a, const TriMesh& b) {
  const auto first = facets(a), second = facets(b);
  std::vector<Facet> out;
  std::ranges::set_difference(first, second, std::back_inserter(out));
  return out;
}

TriMesh read(const TempDir& dir, const std::string& name) {
  return load_mesh(dir.path() / name, {}, {}).mesh;
}

/// Can an upright ball touch the surface at `p` from inside without cutting into it by more than
/// `slack`? Looks round the place that the facet's normal shows.
bool ball_reaches(const ClosestSurface& surface, Vec3 p, Vec3 inward, double radius, double face_z,
                  double slack) {
  const Vec3 first = p + inward * radius;
  for (int ring = 0; ring <= 8; ++ring)
    for (int k = 0; k < std::max(1, 12 * ring); ++k) {
      const double a = 2 * std::numbers::pi * k / std::max(1, 12 * ring), r = 0.06 * radius * ring;
      Vec3 c = first + Vec3{r * std::cos(a), r * std::sin(a), 0};
      // As deep as it still touches p.
      const double level = std::hypot(c.x - p.x, c.y - p.y);
      if (level > radius)
        continue;
      c.z = p.z + std::sqrt(radius * radius - level * level);
      bool fits = true;
      for (double z = c.z; fits && z < face_z + radius; z += radius / 8)
        fits = surface.nearest({c.x, c.y, z}).distance > radius - slack;
      if (fits)
        return true;
    }
  return false;
}

} // namespace

TEST_CASE("a floor that is too thin goes up to what limit and errors need, and nothing else does") {
  ToMend f;
  f.mesh("skin.stl", shapes::box({-30, -20, -20}, {30, 20, 0}));
  f.mesh("pocket.stl", shapes::box({-26, -16, -19.37}, {26, 16, 0}));
  const std::string text = job_text(0.6, 20, 1);
  const auto result = f.mended(text);
  REQUIRE(std::holds_alternative<Mended>(result));
  const Mended& made = std::get<Mended>(result);
  // Floor 0.63 under two touch-offs of +-0.05: in one of 20 it may be under 0.6.
  const double up = made.report.after.design_mm - 0.63;
  CHECK(made.report.before.design_mm == Approx(0.63));
  CHECK(up > 0.02);
  CHECK(up < 0.1 + 0.03);
  const double floor = 52 * 32;
  CHECK(made.report.volume_mm3 > up * floor * 0.98);
  // The ball leaves a fillet along the floor's edges where the floor is new: (1 - pi/4) R2 each.
  CHECK(made.report.volume_mm3 < (up + 0.03) * floor + (1 - std::numbers::pi / 4) * 168 + 1);
  CHECK(made.report.volume_mm3 ==
        Approx(volume_mm3(read(f.dir, "pocket.stl")) - volume_mm3(made.pocket)).epsilon(1e-6));
  CHECK(made.report.largest_mm < up + 0.03 + (std::sqrt(3.0) - 1)); // a corner of the box
  CHECK(made.check.report.wall.verdict == Verdict::safe);
  CHECK(f.read_back(text, made).report.wall.verdict == Verdict::safe);
  CHECK(inspect_mesh(made.pocket).sound());
  CHECK(peers::self_crossings(made.pocket) == 0);
  // The mouth stays.
  CHECK(made.pocket.box().high == Vec3{26, 16, 0});
  const std::string words = mend_text(made.report, made.check.report, "mended.stl", false);
  CHECK(words.find("MENDED: mended.stl") == 0);
  CHECK(words.find(fmt::format("at most {:.3f}", made.report.largest_mm)) != std::string::npos);
  CHECK(words.find("0.630 mm as drawn") != std::string::npos);
}

TEST_CASE("a bowl that lies off its middle: only the thin side changes, by what it lacks") {
  ToMend f;
  f.mesh("skin.stl", shapes::bowl({0, 0, 0}, 30, 128, 48));
  const TriMesh pocket = shapes::bowl({0.5, 0, 0}, 29, 128, 48);
  f.mesh("pocket.stl", pocket);
  const std::string text = job_text(0.7, 32, 2);
  const auto result = f.mended(text);
  if (const NoPocket* why = std::get_if<NoPocket>(&result))
    MESSAGE(no_pocket_text(*why, false));
  REQUIRE(std::holds_alternative<Mended>(result));
  const Mended& made = std::get<Mended>(result);
  CHECK(made.report.before.design_mm == Approx(0.5).epsilon(0.02));
  CHECK(f.read_back(text, made).report.wall.verdict == Verdict::safe);
  CHECK(made.report.after.expected_mm >= 0.7);
  const TriMesh was = read(f.dir, "pocket.stl"), is = read(f.dir, "mended.stl");
  CHECK(inspect_mesh(is).nonmanifold_edges == 0);
  CHECK(inspect_mesh(is).misoriented_edges == 0);
  CHECK(inspect_mesh(is).components.size() == 1);
  CHECK(peers::self_crossings(is) == 0);
  const auto changed = only_in_first(is, was);
  CHECK(changed.size() <= made.report.changed);
  CHECK(changed.size() + 10 > made.report.changed);
  CHECK(is.triangles.size() == made.report.facets);
  CHECK(made.report.changed < made.report.facets);
  // Nothing on the thick side: there the wall is over 1 mm, more than limit and errors need. Lid
  // facets of the bowl reach its middle.
  float least = 0;
  for (const Facet& facet : changed)
    for (const auto& corner : facet)
      least = std::min(least, corner[0]);
  CHECK(least >= -1e-6F);
  CHECK(made.report.largest_mm > 0.2);
  CHECK(made.report.largest_mm < 0.2 + 0.15 + 0.05);
  // Inside the old pocket, and cut by the ball.
  const ClosestSurface surface(is), old_surface(was);
  int tried = 0;
  double farthest = 0;
  for (const Tri& t : is.triangles) {
    const Vec3 a = is.vertices[t[0]], b = is.vertices[t[1]], c = is.vertices[t[2]];
    const Vec3 p = (a + b + c) / 3, n = cross(b - a, c - a);
    farthest = std::max(farthest, distance(p, {0.5, 0, 0}));
    if (length(n) < 1e-4 || p.z > -0.5)
      continue;
    if (old_surface.nearest(p).distance > 0.05 && ++tried % 5 == 0)
      CHECK(ball_reaches(surface, p, -unit(n), 2, 0, 0.06));
  }
  CHECK(farthest <= 29);
  CHECK(tried > 200);
}

TEST_CASE("a pocket that holds: nothing is changed, and that is said") {
  ToMend f;
  f.mesh("skin.stl", shapes::box({-30, -20, -20}, {30, 20, 0}));
  f.mesh("pocket.stl", shapes::box({-26, -16, -19}, {26, 16, 0}));
  const auto result = f.mended(job_text(0.6, 20, 1));
  REQUIRE(std::holds_alternative<NothingToMend>(result));
  const CheckReport& check = std::get<NothingToMend>(result).check.report;
  CHECK(check.wall.verdict == Verdict::safe);
  CHECK(nothing_to_mend_text("room", check, false).find("NOTHING TO MEND\nThe walls of room") == 0);
}

TEST_CASE(
    "a slot too narrow for the ball is made to hold, and what the ball leaves there is told") {
  ToMend f;
  f.mesh("skin.stl", shapes::box({-30, -2.1, -20}, {30, 2.1, 0}));
  f.mesh("pocket.stl", shapes::box({-26, -1.6, -18}, {26, 1.6, 0}));
  const std::string text = job_text(0.7, 20, 2);
  const auto result = f.mended(text);
  if (const NoPocket* why = std::get_if<NoPocket>(&result)) { // never a wall that does not hold
    CHECK(no_pocket_text(*why, false).find("NO POCKET WAS WRITTEN") == 0);
    return;
  }
  const Mended& made = std::get<Mended>(result);
  CHECK(f.read_back(text, made).report.wall.verdict == Verdict::safe);
  CHECK(made.report.unreached_mm > 2);
  CHECK(
      mend_text(made.report, made.check.report, "m.stl", false).find("does not reach all of it") !=
      std::string::npos);
}

TEST_CASE("a pocket in inches that is turned, mirrored and moved: what stays is the same bits") {
  ToMend f;
  f.mesh("skin.stl", shapes::bowl({0, 0, 0}, 30, 96, 32));
  // In the model a bowl off its middle: stored as the placing undoes it.
  TriMesh stored = shapes::bowl({0.5, 0, 0}, 29, 96, 32);
  for (Vec3& v : stored.vertices) // turned by 90, mirrored in x, moved by 4, -6, 0: undone
    v = Vec3{-(v.y + 6), -(v.x - 4), v.z} / 25.4;
  for (Tri& t : stored.triangles)
    std::swap(t[1], t[2]);
  f.mesh("pocket.stl", stored);
  const std::string text = job_text(0.7, 32, 2) +
                           "[part.pocket.placing]\nunits = \"inch\"\nmirror = \"x\"\nturn = 90\n"
                           "shift = [4, -6, 0]\n";
  REQUIRE(f.checked(text).report.wall.least_wall.design_mm == Approx(0.5).epsilon(0.02));
  const auto result = f.mended(text);
  REQUIRE(std::holds_alternative<Mended>(result));
  const Mended& made = std::get<Mended>(result);
  CHECK(f.read_back(text, made).report.wall.verdict == Verdict::safe);
  LoadOptions raw;
  raw.unit_if_unstated = LengthUnit::mm;
  const auto changed = only_in_first(read(f.dir, "mended.stl"), read(f.dir, "pocket.stl"));
  CHECK(changed.size() <= made.report.changed);
  CHECK(made.report.changed < made.report.facets);
}

TEST_CASE("turned by 30 degrees: corners that are exactly 0 in the file stay 0") {
  ToMend f;
  f.mesh("skin.stl", shapes::bowl({0, 0, 0}, 30, 96, 32));
  f.mesh("pocket.stl", shapes::bowl({0, 0, 0}, 29, 96, 32));
  const auto result =
      f.mended(job_text(0.7, 32, 2) +
               "[part.pocket.placing]\nunits = \"mm\"\nturn = 30\nshift = [0.5, 0, 0]\n");
  REQUIRE(std::holds_alternative<Mended>(result));
  const Mended& made = std::get<Mended>(result);
  f.dir.file("mended.stl", stl_bytes(made.written));
  const TriMesh was = read(f.dir, "pocket.stl"), is = read(f.dir, "mended.stl");
  CHECK(only_in_first(is, was).size() <= made.report.changed);
  CHECK(only_in_first(was, is).size() < was.triangles.size() / 2);
}

TEST_CASE("a pocket in resin is mended by its name; a name that fits none or two is refused") {
  ToMend f;
  f.mesh("skin.stl", shapes::box({-40, -30, -30}, {40, 30, 0}));
  f.mesh("outer.stl", shapes::box({-35, -25, -26}, {35, 25, 0}));
  f.mesh("pocket.stl", shapes::box({-30, -20, -25.4}, {30, 20, 0}));
  const std::string text = R"(
units = "mm"
limit = 0.8
trials = 1000
[board]
thickness = 30
[side_a]
zero = "top"
touch_off = 0.05
bit = {ball_radius = 1.5}
[side_b]
zero = "bed"
touch_off = 0.05
[[part]]
skin = "skin.stl"
[[part.pocket]]
name = "shell"
mesh = "outer.stl"
material = "resin"
[[part.pocket]]
name = "core"
mesh = "pocket.stl"
inside = "shell"
[part.pocket.side_a]
zero = "top"
touch_off = 0.05
)";
  CHECK_THROWS_WITH_AS(f.mended(text), doctest::Contains("--pocket: shell, core"), InputError);
  CHECK_THROWS_WITH_AS(f.mended(text, "cord"), doctest::Contains("no pocket is called \"cord\""),
                       InputError);
  CHECK(std::holds_alternative<NothingToMend>(f.mended(text, "shell")));
  const auto result = f.mended(text, "core");
  if (const NoPocket* why = std::get_if<NoPocket>(&result))
    MESSAGE(no_pocket_text(*why, false));
  REQUIRE(std::holds_alternative<Mended>(result));
  const Mended& made = std::get<Mended>(result);
  CHECK(made.report.pocket == "core");
  CHECK(made.report.before.design_mm == Approx(0.6));
  CHECK(made.report.after.expected_mm >= 0.8);
  CHECK(made.check.report.wall.verdict == Verdict::safe);
  CHECK(f.read_back(text, made).report.wall.verdict == Verdict::safe);
}

TEST_CASE("an edge of three facets is refused before anything is computed") {
  ToMend f;
  f.mesh("skin.stl", shapes::box({-30, -20, -20}, {30, 20, 0}));
  TriMesh fin = shapes::box({-26, -16, -19.5}, {26, 16, 0});
  fin.vertices.push_back({0, 0, -10});
  fin.triangles.push_back({fin.triangles[0][0], fin.triangles[0][1], 8});
  f.mesh("pocket.stl", fin);
  CHECK_THROWS_WITH_AS(f.mended(job_text(0.6, 20, 1)),
                       doctest::Contains("have three facets or more"), InputError);
}

TEST_CASE("one thread and many write the same bytes, mesh and picture") {
  ToMend f;
  f.mesh("skin.stl", shapes::bowl({0, 0, 0}, 20, 96, 32));
  f.mesh("pocket.stl", shapes::bowl({0.4, 0, 0}, 19, 96, 32));
  const std::string text = job_text(0.7, 22, 2);
  const auto many = f.mended(text);
  REQUIRE(std::holds_alternative<Mended>(many));
  const std::string picture = f.picture(text, std::get<Mended>(many));
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, 1);
  const auto one = f.mended(text);
  REQUIRE(std::holds_alternative<Mended>(one));
  CHECK(stl_bytes(std::get<Mended>(one).written) == stl_bytes(std::get<Mended>(many).written));
  const std::string again = f.picture(text, std::get<Mended>(one));
  CHECK((again == picture)); // not shown where it fails
  // The picture's words are the report's.
  const MendReport& report = std::get<Mended>(many).report;
  CHECK(picture.find(fmt::format("{:.3f} mm moved", report.largest_mm)) != std::string::npos);
  CHECK(picture.find(fmt::format("least wall {:.3f} mm expected, {:.3f} mm at worst",
                                 report.after.expected_mm, report.after.worst_mm)) !=
        std::string::npos);
}

// The promise itself. LEASTWALL_MANY_POCKETS tries so many instead of a few.
TEST_CASE("random thin pockets under random jobs: mended, each holds when it is read back") {
  std::mt19937 draw(5);
  std::uniform_real_distribution<double> any(0, 1);
  const char* many = std::getenv("LEASTWALL_MANY_POCKETS");
  const int pockets = many != nullptr ? std::atoi(many) : 10;
  int made_of = 0, thin = 0;
  for (int k = 0; k < pockets; ++k) {
    ToMend f;
    const double half = 16, deep = 8 + 6 * any(draw), wave = 0.8 * any(draw),
                 length = 3 + 4 * any(draw), wall = 0.9 + 0.4 * any(draw);
    const double limit = 0.4 + 0.4 * any(draw);
    // Down to 0.1 to 0.3 mm under the limit, measured straight down.
    const Vec3 dent{(any(draw) - 0.5) * half, (any(draw) - 0.5) * half,
                    1.6 * wall - limit + 0.1 + 0.2 * any(draw)};
    // Sides over 45 degrees at the face: flatter ones end in a feather edge, whatever the pocket.
    const auto skin_z = [&](double x, double y) {
      const double r = std::max(std::abs(x), std::abs(y)) / half, inside = 1 - std::pow(r, 6);
      return -inside * (deep + wave * std::sin(x / length) * std::cos(y / length));
    };
    f.mesh("skin.stl", shapes::sheet({-half, half}, {-half, half}, 60, 60, skin_z));
    // As thick as asked all over, but for a dent that is too deep.
    f.mesh("pocket.stl",
           shapes::sheet(
               {-half + 3, half - 3}, {-half + 3, half - 3}, 70, 70, [&](double x, double y) {
                 const double q = std::hypot(x - dent.x, y - dent.y) / 3;
                 const double r = std::max(std::abs(x), std::abs(y)) / (half - 3);
                 return std::min(0.0, (skin_z(x, y) + 1.6 * wall) * (1 - std::pow(r, 8))) -
                        (q < 1 ? dent.z * (1 - q * q) * (1 - q * q) * (1 - std::pow(r, 8)) : 0);
               }));
    const std::string text = job_text(limit, deep + 4, 1 + any(draw),
                                      fmt::format("sanding = {:.3f}\n[bed]\nflatness = {:.3f}\n",
                                                  0.1 * any(draw), 0.2 * any(draw)));
    CAPTURE(k);
    const auto result = f.mended(text);
    if (std::holds_alternative<NothingToMend>(result))
      continue;
    ++thin;
    if (const NoPocket* why = std::get_if<NoPocket>(&result)) {
      if (why->at_face) { // the skin runs out to an edge there, whatever the pocket
        --thin;
        continue;
      }
      MESSAGE(k << ": " << no_pocket_text(*why, false));
      continue;
    }
    ++made_of;
    const Mended& made = std::get<Mended>(result);
    CHECK(f.read_back(text, made).report.wall.verdict == Verdict::safe);
    const TriMesh was = read(f.dir, "pocket.stl"), is = read(f.dir, "mended.stl");
    CHECK(only_in_first(is, was).size() <= made.report.changed);
    CHECK(inspect_mesh(is).boundary_edges == inspect_mesh(was).boundary_edges);
    CHECK(inspect_mesh(is).nonmanifold_edges == 0);
    CHECK(peers::self_crossings(is) <= peers::self_crossings(was));
  }
  CHECK(thin >= pockets / 2);
  CHECK(made_of >= thin - thin / 4);
}
