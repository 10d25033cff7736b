// From a job to what is poured: closed forms, nested pockets, refusals, and the same numbers in
// text, JSON, picture and sheet.
#include "check/pour/pour_job.h"

#include "check/job_folder.h"
#include "peers/reference_library.h"
#include "report/json/pour_json.h"
#include "report/pour/pour_picture.h"
#include "report/sheet/pdf_tools.h"
#include "report/sheet/pour_page.h"
#include "report/text/pour_text.h"
#include "report/words/amount_text.h"
#include "report/words/length_text.h"
#include "support/random_shapes.h"
#include "support/run_program.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <numbers>
#include <tbb/global_control.h>

using namespace leastwall;
using namespace leastwall::test;
using doctest::Approx;
using Json = nlohmann::json;

namespace {

const std::string kResin = R"(
[part.pocket.resin]
ratio = "2:1"
ratio_by = "volume"
density_a = 1.14
density_b = 0.98
deepest_lift = 6.5
hours_between_lifts = 24
hours_until_cut = 72
overage = 10
)";

struct ToPour : Folder {
  Pour poured(const std::string& text, const PourAsked& asked = {}) const {
    const auto file = dir.path() / "job.toml";
    std::ofstream(file) << text;
    const JobWithPocket job =
        read_job_to_pour(file.string(), [](const std::filesystem::path&) {}, {}, {});
    return pour_job(job.job, file.string(), job.meshes, asked, {});
  }
};

struct PourBoxes : ToPour {
  PourBoxes() {
    mesh("skin.stl", shapes::box({-40, -30, -20}, {40, 30, 0}));
    mesh("room.stl", shapes::box({-38.8, -28.8, -18.8}, {38.8, 28.8, 0}));
    mesh("ember.stl", shapes::box({-35.8, -25.8, -15.8}, {35.8, 25.8, 0}));
  }
};

/// One part and one pocket.
std::string one(const std::string& more, const std::string& head = "") {
  return head + kBoard + R"(
[[part]]
skin = "skin.stl"
[[part.pocket]]
name = "room"
limit = 0.5
mesh = "room.stl"
)" + more;
}

std::string nested(const std::string& first, const std::string& second) {
  std::string text = kBoard + kNested;
  const std::string end = "material = \"amber resin\"\n";
  text.insert(text.find(end) + end.size(), first);
  return text + second;
}

constexpr double kRoom = 77.6 * 57.6 * 18.8, kEmber = 71.6 * 51.6 * 15.8; // mm3

std::vector<std::string> codes(const PourReport& report) {
  std::vector<std::string> out;
  for (const PourWarning& w : report.warnings)
    out.push_back(w.notice.code);
  return out;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// Runs of blanks and line ends as one blank.
std::string flat(const std::string& text) {
  std::string out;
  for (const char c : text)
    if (c != ' ' && c != '\n')
      out += c;
    else if (!out.empty() && out.back() != ' ')
      out += ' ';
  return out;
}

} // namespace

TEST_CASE("a box: volume, lifts, components, times") {
  const PourBoxes boxes;
  PourAsked asked;
  asked.start = clock_time_from_text("2026-03-14 18:00");
  const PourReport report = boxes.poured(one(kResin), asked).report;
  REQUIRE(report.rows.size() == 1);
  const PourRow& row = report.rows[0];
  REQUIRE(row.volume);
  CHECK(row.volume->mm3 == Approx(kRoom).epsilon(1e-6));
  CHECK(row.volume->later_mm3 == 0);
  CHECK(row.depth_mm == Approx(18.8));
  CHECK(row.area_mm2 == Approx(77.6 * 57.6 + 2 * 18.8 * (77.6 + 57.6)).epsilon(1e-6));
  CHECK(row.mix_mm3 == Approx(1.1 * kRoom).epsilon(1e-6));
  REQUIRE(row.lifts.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    const PourLift& lift = row.lifts[i];
    CHECK(lift.thickness_mm == Approx(18.8 / 3));
    CHECK(lift.under_face_mm == Approx(18.8 * (2.0 - static_cast<double>(i)) / 3).epsilon(1e-6));
    CHECK(lift.volume_mm3 == Approx(kRoom / 3).epsilon(1e-6));
    CHECK(*lift.amounts.a_mm3 == Approx(1.1 * kRoom / 3 * 2 / 3).epsilon(1e-6));
    CHECK(*lift.amounts.b_g == Approx(1.1 * kRoom / 3 / 3 * 0.98e-3).epsilon(1e-6));
    CHECK(*lift.after_h == 24.0 * static_cast<double>(i));
    CHECK_FALSE(lift.cups);
  }
  CHECK(*row.may_be_cut_h == 48 + 72);
  CHECK(*report.side_b_h == 120);
  CHECK(row.asked.empty());
  CHECK(report.warnings.empty());
  CHECK(report.all_told());
  // Half of the depth holds half.
  REQUIRE(row.volume->by_depth.size() == 10);
  CHECK(row.volume->by_depth[4].under_face_mm == Approx(9.4));
  CHECK(row.volume->by_depth[4].mm3 == Approx(kRoom / 2).epsilon(1e-6));
  const std::string text = pour_text(report, false);
  CHECK(has(text, "Begins Sat 14 Mar 18:00"));
  CHECK(has(text, "Thu 19 Mar 18:00"));
}

TEST_CASE("exact multiples of the deepest lift give no lift more") {
  PourBoxes boxes;
  boxes.mesh("room.stl", shapes::box({-10, -10, -15}, {10, 10, 0}));
  const auto lifts = [&](const char* deepest) {
    return boxes.poured(one(fmt::format("[part.pocket.resin]\ndeepest_lift = {}\n", deepest)))
        .report.rows[0]
        .lifts.size();
  };
  CHECK(lifts("5") == 3);
  CHECK(lifts("4.9999") == 4);
  CHECK(lifts("15") == 1);
  CHECK(lifts("7.5") == 2);
  // "0.59055118110236220 in" is 15 mm.
  CHECK(lifts("\"0.5905511811023622 in\"") == 1);
}

TEST_CASE("a nested pocket takes its whole volume out of the resin round it") {
  const PourBoxes boxes;
  const PourReport report = boxes.poured(nested(kResin, kResin)).report;
  REQUIRE(report.rows.size() == 2);
  CHECK(report.rows[0].volume->mm3 == Approx(kRoom).epsilon(1e-6));
  CHECK(report.rows[0].volume->later_mm3 == Approx(kEmber).epsilon(1e-6));
  CHECK(report.rows[0].volume->later_exact);
  CHECK(report.rows[1].volume->mm3 == Approx(kEmber).epsilon(1e-6));
  CHECK(report.rows[1].volume->later_mm3 == 0);
  CHECK(report.rows[1].name.inside == "room");
  CHECK(report.rows[1].stage == 1);
  // It begins when the first one may be cut: 2 x 24 h and 72 h.
  CHECK(*report.rows[1].starts_h == 120);
  CHECK(*report.rows[1].lifts[0].after_h == 120);
  CHECK(*report.side_b_h == 240);
}

TEST_CASE("three deep, two beside one another, one that leaves the resin") {
  PourBoxes boxes;
  const std::string own = "[part.pocket.side_a]\nzero = \"top\"\n";
  boxes.mesh("deep.stl", shapes::box({-10, -10, -9}, {10, 10, 0}));
  const std::string third = own +
                            "[[part.pocket]]\nname = \"deep\"\ninside = \"ember\"\nlimit = "
                            "0.5\nmesh = \"deep.stl\"\n" +
                            own;
  std::string text = kBoard + kNested;
  text.erase(text.rfind("[part.pocket.side_a]"));
  PourReport report = boxes.poured(text + third).report;
  REQUIRE(report.rows.size() == 3);
  CHECK(report.rows[0].volume->later_mm3 == Approx(kEmber).epsilon(1e-6));
  CHECK(report.rows[0].volume->later_exact);
  CHECK(report.rows[1].volume->later_mm3 == Approx(20 * 20 * 9).epsilon(1e-6));
  CHECK(report.rows[2].stage == 2);
  // Two in the room, apart.
  boxes.mesh("ember.stl", shapes::box({-30, -20, -10}, {-5, 20, 0}));
  boxes.mesh("deep.stl", shapes::box({5, -20, -8}, {30, 20, 0}));
  std::string beside = third;
  beside.replace(beside.find("inside = \"ember\""), 16, "inside = \"room\"");
  report = boxes.poured(text + beside).report;
  CHECK(report.rows[0].volume->later_mm3 == Approx(25 * 40 * 18).epsilon(1e-6));
  CHECK(report.rows[0].volume->later_exact);
  // They cross: counted once, and only near.
  boxes.mesh("deep.stl", shapes::box({-10, -20, -8}, {30, 20, 0}));
  report = boxes.poured(text + beside).report;
  CHECK_FALSE(report.rows[0].volume->later_exact);
  CHECK(report.rows[0].volume->later_mm3 == Approx(25 * 40 * 10 + 35 * 40 * 8).epsilon(0.01));
  // It leaves the resin downwards.
  boxes.mesh("ember.stl", shapes::box({-20, -20, -19.5}, {20, 20, 0}));
  report = boxes.poured(kBoard + kNested).report;
  CHECK_FALSE(report.rows[0].volume->later_exact);
  CHECK(report.rows[0].volume->later_mm3 == Approx(40 * 40 * 18.8).epsilon(0.01));
  CHECK(report.rows[1].volume->mm3 == Approx(40 * 40 * 19.5).epsilon(1e-6));
}

TEST_CASE("random pockets, one in the other: CGAL's volumes") {
  ToPour folder;
  const TriMesh skin = shapes::box({-60, -60, -45}, {60, 60, 0}),
                room = shapes::bumpy_ball(11, 30, 6, 50), ember = shapes::bumpy_ball(12, 15, 4, 40);
  folder.mesh("skin.stl", skin);
  folder.mesh("room.stl", room);
  folder.mesh("ember.stl", ember);
  std::string text = kBoard + kNested;
  text.replace(text.find("thickness = 40"), 14, "thickness = 60\npocket_face_z = 0");
  const PourReport report = folder.poured(text).report;
  REQUIRE(report.rows.size() == 2);
  // STL holds single precision.
  CHECK(report.rows[0].volume->mm3 == Approx(peers::volume_below_plane(room, 0)).epsilon(1e-5));
  CHECK(report.rows[1].volume->mm3 == Approx(peers::volume_below_plane(ember, 0)).epsilon(1e-5));
  CHECK(report.rows[0].volume->later_exact);
  CHECK(report.rows[0].volume->later_mm3 == Approx(report.rows[1].volume->mm3).epsilon(1e-9));
}

TEST_CASE("mirrored halves are one row, counted twice in what is bought") {
  const PourBoxes boxes;
  const Pour pour = boxes.poured(nested(kResin, kResin) + kMirror);
  const PourReport& report = pour.report;
  REQUIRE(report.rows.size() == 2);
  CHECK(report.rows[0].name.parts == std::vector<std::string>{"left", "right"});
  REQUIRE(report.totals.size() == 2); // amber resin, and the one of the ember that has no name
  CHECK(report.totals[0].material == "amber resin");
  CHECK(report.totals[0].mix_mm3 == Approx(2 * 1.1 * kRoom).epsilon(1e-6));
  CHECK(report.totals[1].mix_mm3 == Approx(2 * 1.1 * kEmber).epsilon(1e-6));
  CHECK(*report.totals[0].amounts.a_g == Approx(2 * *report.rows[0].amounts.a_g));
  CHECK(has(pour_text(report, false), "amber resin into room of left and right"));
}

TEST_CASE("nothing is made up: without a resin the volume is told, the rest is asked for") {
  const PourBoxes boxes;
  const PourReport report = boxes.poured(one("")).report;
  const PourRow& row = report.rows[0];
  CHECK(row.volume->mm3 == Approx(kRoom).epsilon(1e-6));
  CHECK(row.lifts.empty());
  CHECK_FALSE(row.amounts.a_mm3);
  CHECK_FALSE(row.may_be_cut_h);
  CHECK_FALSE(report.side_b_h);
  CHECK(row.asked == std::vector<std::string>{"ratio", "ratio_by", "density_a", "density_b",
                                              "deepest_lift", "hours_between_lifts",
                                              "hours_until_cut"});
  const std::string text = flat(pour_text(report, false));
  CHECK(has(text, "Asked for: state ratio, ratio_by, density_a, density_b, deepest_lift, "
                  "hours_between_lifts and hours_until_cut for room in [part.pocket.resin], from "
                  "the resin's data sheet."));
  CHECK(has(text, "nothing over (no overage is stated)"));
  CHECK(has(text, "When side B may be cut is not known"));
  // One lift needs no hours between lifts.
  const PourRow single =
      boxes.poured(one("[part.pocket.resin]\ndeepest_lift = 20\nhours_until_cut = 50\n"))
          .report.rows[0];
  CHECK(single.asked == std::vector<std::string>{"ratio", "ratio_by", "density_a", "density_b"});
  CHECK(*single.may_be_cut_h == 50);
}

TEST_CASE("a job in inches is the same job") {
  PourBoxes boxes;
  const PourRow mm = boxes.poured(one(kResin)).report.rows[0];
  std::string text = one(kResin);
  text.replace(text.find("units = \"mm\""), 12, "units = \"inch\"");
  const auto to_inch = [&text](const std::string& from, const std::string& to) {
    text.replace(text.find(from), from.size(), to);
  };
  to_inch("deepest_lift = 6.5", "deepest_lift = \"6.5 mm\"");
  to_inch("thickness = 40", "thickness = \"40 mm\"");
  to_inch("corner = [-150, -150]", "corner = [-6, -6]");
  to_inch("size = [300, 300]", "size = [12, 12]");
  to_inch("touch_point = [-140, 140]", "touch_point = [-5, 5]");
  to_inch("touch_point = [-140, 140]", "touch_point = [-5, 5]");
  for (const auto* name : {"skin.stl", "room.stl"}) {
    const std::string file = name;
    const Vec3 r = file == "skin.stl" ? Vec3{40, 30, 20} : Vec3{38.8, 28.8, 18.8};
    boxes.mesh(file, shapes::scaled(shapes::box({-r.x, -r.y, -r.z}, {r.x, r.y, 0}), 1 / 25.4));
  }
  to_inch("skin = \"skin.stl\"\n", "skin = \"skin.stl\"\nplacing.units = \"inch\"\n");
  const PourReport inch = boxes.poured(text).report;
  CHECK(inch.rows[0].volume->mm3 == Approx(mm.volume->mm3).epsilon(1e-5));
  CHECK(inch.rows[0].lifts.size() == mm.lifts.size());
  CHECK(*inch.rows[0].amounts.b_g == Approx(*mm.amounts.b_g).epsilon(1e-5));
  // 84,031.5 mm3: 2.8414 US fluid ounces of 29.5735 ml.
  const std::string words = flat(pour_text(inch, true));
  CHECK(has(words, fmt::format("{:.2f} fl oz ({} ml)", kRoom / 29573.5295625, ml_number(kRoom))));
  CHECK(has(words, "0.740 in (18.8 mm) at its deepest"));
}

TEST_CASE("cups, seal coat, thin walls") {
  const PourBoxes boxes;
  // 110 % of a third of the box are 30.8 ml; a cup of 20 ml takes 15.
  const PourRow row =
      boxes.poured(one(kResin + "cup = 20\nseal_coat = 200\nthin_wall = 1.3\n")).report.rows[0];
  CHECK(*row.lifts[0].cups == 3);
  CHECK(*row.seal_g == Approx(row.area_mm2 * 200e-6));
  REQUIRE(row.thin);
  CHECK(row.thin->area_mm2 == Approx(row.area_mm2).epsilon(1e-6)); // 1.2 mm all round
  CHECK(row.thin->least_mm == Approx(1.2).epsilon(1e-4));
  const PourRow thick = boxes.poured(one(kResin + "thin_wall = 1.1\n")).report.rows[0];
  CHECK(thick.thin->area_mm2 == 0);
  // The call goes before the job; resin round a pocket is no wood.
  PourAsked asked;
  asked.thin_wall_mm = 1.3;
  const PourReport both = boxes.poured(nested(kResin + "thin_wall = 1\n", kResin), asked).report;
  CHECK(both.rows[0].thin->area_mm2 > 0);
  CHECK_FALSE(both.rows[1].thin);
  CHECK_FALSE(both.rows[1].seal_g);
}

TEST_CASE("off level: a box in closed form, from the job and from the call") {
  const PourBoxes boxes;

  std::string text = one(kResin);
  text.insert(text.find("[[part]]"), "[pour]\ntilt = \"5 mm/m\"\ntilt_towards = 0\n");
  const PourReport report = boxes.poured(text).report;
  REQUIRE(report.rows[0].tilted);
  CHECK(report.rows[0].tilted->short_mm == Approx(77.6 * 0.005).epsilon(1e-6));
  CHECK(report.rows[0].tilted->brim_mm3 ==
        Approx(kRoom - 77.6 * 57.6 * 77.6 * 0.005 / 2).epsilon(1e-6));
  CHECK(report.rows[0].tilted->over_mm == Approx(77.6 * 0.0025).epsilon(1e-5));
  // Lifts of 6.27 mm would stand 6.46 mm deep on the low side: the data sheet allows 6.5.
  CHECK(report.warnings.empty());
  PourAsked asked;
  asked.tilt = Tilt{0.01, 0.0};
  const PourReport steeper = boxes.poured(text, asked).report;
  CHECK(steeper.rows[0].tilted->short_mm == Approx(0.776).epsilon(1e-6));
  CHECK(codes(steeper) == std::vector<std::string>{"pour-lift-too-deep"});
}

TEST_CASE("meshes that do not tell a volume: no number, and why") {
  PourBoxes boxes;
  const auto row_of = [&](const TriMesh& mesh, std::vector<std::string> wanted) {
    boxes.mesh("room.stl", mesh);
    const PourReport report = boxes.poured(one(kResin)).report;
    CHECK(codes(report) == wanted);
    CHECK(report.all_told() == report.rows[0].volume.has_value());
    return report.rows[0];
  };
  TriMesh floorless = shapes::subdivided(shapes::box({-10, -10, -9}, {10, 10, 0}));
  std::erase_if(floorless.triangles, [&](const Tri& t) {
    return std::ranges::all_of(t, [&](std::uint32_t v) { return floorless.vertices[v].z == -9; });
  });
  const PourRow open = row_of(floorless, {"pour-open"});
  CHECK_FALSE(open.volume);
  CHECK(open.lifts.empty());
  CHECK(open.mix_mm3 == 0);
  CHECK_FALSE(row_of(shapes::joined(shapes::box({-10, -10, -9}, {10, 10, 0}),
                                    shapes::box({5, -5, -6}, {20, 5, 0})),
                     {"pour-overlap"})
                  .volume);
  // An open sheet that ends at the face is a pocket like any other.
  TriMesh sheet = shapes::box({-10, -10, -9}, {10, 10, 0});
  std::erase_if(sheet.triangles, [&](const Tri& t) {
    return std::ranges::all_of(t, [&](std::uint32_t v) { return sheet.vertices[v].z == 0; });
  });
  CHECK(row_of(sheet, {}).volume->mm3 == Approx(3600));
  const PourRow low = row_of(shapes::moved(sheet, {0, 0, -0.3}), {"pour-edge-below"});
  REQUIRE(low.volume);
  CHECK(low.volume->mm3 == Approx(400 * 9.3));
  CHECK(low.volume->less_mm3 == Approx(120));
  const PourReport report = boxes.poured(one("")).report;
  CHECK(has(flat(pour_text(report, false)), "so that it may be up to 0.12 ml less."));
}

TEST_CASE(
    "a warning stays with its pocket: two parts whose pockets are called alike, put in order") {
  PourBoxes boxes;
  TriMesh low = shapes::box({-30, -20, -9}, {30, 20, 0});
  std::erase_if(low.triangles, [&](const Tri& t) {
    return std::ranges::all_of(t, [&](std::uint32_t v) { return low.vertices[v].z == 0; });
  });
  boxes.mesh("low.stl", shapes::moved(low, {0, 0, -0.3}));
  const Pour pour = boxes.poured(nested(kResin, kResin) + R"(
[[part]]
name = "spare"
place = [0, -60]
skin = "skin.stl"
[[part.pocket]]
name = "room"
mesh = "low.stl"
limit = 0.5
)");
  // The ember room is cut in a later set-up: it comes last.
  REQUIRE(pour.report.rows.size() == 3);
  CHECK(pour.report.rows[1].name.parts == std::vector<std::string>{"spare"});
  CHECK(pour.report.rows[2].name.pocket == "ember");
  REQUIRE(codes(pour.report) == std::vector<std::string>{"pour-edge-below"});
  CHECK(pour.report.warnings[0].row == 1);
  const std::string said = "room of spare: its open edge lies up to 0.30 mm";
  CAPTURE(pour_json(pour.report));
  CHECK(has(flat(pour_text(pour.report, false)), said));
  CHECK(has(pour_json(pour.report), said));
  for (std::size_t r = 0; r < 3; ++r) {
    SheetPaper paper(PaperSize::a4, "t");
    draw_pour_page(paper, pour, {r}, "Page 1 of 1.", false);
    CAPTURE(r);
    CHECK(has(flat(sample::PdfFile(paper.file()).flat(1)), "its open edge lies") == (r == 1));
  }
  // Drawings go along with their rows; none where none are asked for.
  REQUIRE(pour.drawings.size() == 3);
  CHECK(section_box(pour.drawings[1].section.pocket).low.z_mm == Approx(-9.3));
  PourAsked asked;
  asked.drawn = false;
  CHECK(boxes.poured(one(kResin), asked).drawings.empty());
}

TEST_CASE("far too many lifts are refused with the line of the pocket") {
  const PourBoxes boxes;
  try {
    boxes.mesh("room.stl", shapes::box({-10, -10, -10}, {10, 10, 0}));
    CHECK(boxes.poured(one("[part.pocket.resin]\ndeepest_lift = 0.1\n"))
              .report.rows[0]
              .lifts.size() == 100);
    boxes.mesh("skin.stl", shapes::box({-400, -300, -90}, {400, 300, 0}));
    boxes.mesh("room.stl", shapes::box({-10, -10, -80}, {10, 10, 0}));
    (void)boxes.poured(one("[part.pocket.resin]\ndeepest_lift = 0.1\n"));
    FAIL("accepted");
  } catch (const InputError& error) {
    const std::string what = error.what();
    CHECK(has(what, "job.toml:"));
    CHECK(has(what, "gives 800 lifts in room, at most 100"));
  }
}

TEST_CASE("text, JSON, picture and sheet say the same numbers") {
  const PourBoxes boxes;
  std::string text = nested(kResin + "seal_coat = 150\nthin_wall = 1.3\ncup = 40\n", kResin);
  text.insert(text.find("[[part]]"),
              "[pour]\nstart = \"2026-03-14 18:00\"\ntilt = \"2 mm/m\"\ntilt_towards = 90\n");
  const Pour pour = boxes.poured(text + kMirror);
  const std::string words = flat(pour_text(pour.report, false)),
                    picture = draw_pour_picture(pour, false);
  const Json json = Json::parse(pour_json(pour.report));
  for (std::size_t r = 0; r < 2; ++r) {
    const Json& row = json["pockets"][r];
    SheetPaper paper(PaperSize::a4, "t");
    draw_pour_page(paper, pour, {r}, "Page 1 of 1.", false);
    const sample::PdfFile pdf(paper.file());
    CHECK(pdf.pages() == 1);
    const std::string page = flat(pdf.flat(1));
    const std::string volume = ml_number(row["volume_ml"].get<double>() * 1000) + " ml",
                      mix = ml_number(row["mix_ml"].get<double>() * 1000) + " ml";
    for (const std::string& number : {volume, mix}) {
      CAPTURE(number);
      CHECK(has(words, number));
      CHECK(has(picture, number));
      CHECK(has(page, number));
    }
    for (const Json& lift : row["lifts"]) {
      const std::string a = ml_number(lift["a_ml"].get<double>() * 1000),
                        b = gram_number(lift["b_g"].get<double>()),
                        holds = ml_number(lift["volume_ml"].get<double>() * 1000) + " ml";
      CAPTURE(a);
      CHECK(has(words, a));
      CHECK(has(words, b));
      CHECK(has(page, a));
      CHECK(has(page, b));
      CHECK(has(picture, holds));
      const double under = lift["under_face_mm"];
      if (under > 0) {
        CHECK(has(picture, fmt::format("to {:.1f} mm", under)));
        CHECK(has(page, fmt::format("{:.1f} mm under the face", under)));
      }
      const std::string at = lift["when"]["at"]; // 2026-03-15T18:00
      const std::string day = fmt::format("{} Mar {}", std::stoi(at.substr(8, 2)), at.substr(11));
      CHECK(has(words, day));
      CHECK(has(page, day));
      CHECK(has(picture, day));
    }
    const std::string brim = ml_number(row["off_level"]["holds_ml"].get<double>() * 1000) + " ml";
    CHECK(has(words, brim));
    CHECK(has(page, brim));
  }
  CHECK(has(words, gram_number(json["pockets"][0]["seal_coat_g"].get<double>()) + " g"));
  CHECK(json["altogether"][0]["mix_ml"].get<double>() ==
        Approx(2 * json["pockets"][0]["mix_ml"].get<double>()));
}

TEST_CASE("JSON keeps to its schema, with much stated and with nothing") {
  const PourBoxes boxes;
  std::string text = nested(kResin + "seal_coat = 150\nthin_wall = 1.3\ncup = 40\n", "") + kMirror;
  text.insert(text.find("[[part]]"), "[pour]\nstart = \"2026-03-14 18:00\"\ntilt = \"2 mm/m\"\n");
  boxes.dir.file("much.json", pour_json(boxes.poured(text).report));
  boxes.dir.file("little.json", pour_json(boxes.poured(one("")).report));
  boxes.mesh("room.stl", shapes::joined(shapes::box({-10, -10, -9}, {10, 10, 0}),
                                        shapes::box({5, -5, -6}, {20, 5, 0})));
  boxes.dir.file("none.json", pour_json(boxes.poured(one(kResin)).report));
  std::vector<std::string> call{"python3",
                                LEASTWALL_SOURCE_DIR "/tests/report/json/validate_json.py",
                                LEASTWALL_SOURCE_DIR "/src/report/json/pour.schema.json"};
  for (const char* name : {"much.json", "little.json", "none.json"})
    call.push_back((boxes.dir.path() / name).string());
  const RunResult result = run_program(call);
  INFO(result.err);
  CHECK(result.status == 0);
}

TEST_CASE("the same JSON, picture and page on any number of threads") {
  ToPour folder;
  folder.mesh("skin.stl", shapes::box({-60, -60, -45}, {60, 60, 0}));
  folder.mesh("room.stl", shapes::bumpy_ball(11, 30, 6, 200));
  folder.mesh("ember.stl", shapes::bumpy_ball(12, 15, 4, 100));
  std::string text = nested(kResin + "thin_wall = 14\n", kResin);
  text.replace(text.find("thickness = 40"), 14, "thickness = 60\npocket_face_z = 0");
  text.insert(text.find("[[part]]"), "[pour]\ntilt = \"2 mm/m\"\n");
  const Pour many = folder.poured(text);
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, 1);
  const Pour single = folder.poured(text);
  CHECK(pour_json(many.report) == pour_json(single.report));
  CHECK(draw_pour_picture(many, false) == draw_pour_picture(single, false));
  CHECK(pour_text(many.report, true) == pour_text(single.report, true));
}

TEST_CASE("the thinnest place under resin is told where it lies on the board, part by part") {
  const PourBoxes boxes;
  const Pour pour = boxes.poured(nested(kResin + "thin_wall = 1.3\n", kResin) + kMirror);
  const PourRow& row = pour.report.rows[0];
  REQUIRE(row.thin);
  REQUIRE(row.on_board.size() == 2);
  const Vec3 at = row.thin->at;
  // The left part lies at 0, 60; the right one is mirrored and lies at 0, -60.
  CHECK(row.on_board[0].thin_at.x == Approx(at.x));
  CHECK(row.on_board[0].thin_at.y == Approx(at.y + 60));
  CHECK(row.on_board[1].thin_at.x == Approx(-at.x));
  CHECK(row.on_board[1].thin_at.y == Approx(at.y - 60));
  const std::string said = LengthText{false}.place(row.on_board[0].thin_at) + " in left and " +
                           LengthText{false}.place(row.on_board[1].thin_at) +
                           " in right, side A up";
  CAPTURE(said);
  CHECK(has(flat(pour_text(pour.report, false)), said));
  SheetPaper paper(PaperSize::a4, "t");
  draw_pour_page(paper, pour, {0}, "Page 1 of 1.", false);
  CHECK(has(flat(sample::PdfFile(paper.file()).flat(1)), said));
}
