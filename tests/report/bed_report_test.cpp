// Text, JSON and picture of `bed`.
#include "base/text/wrap_text.h"
#include "report/draw/colour_map.h"
#include "report/json/bed_json.h"
#include "report/maps/bed_map_parts.h"
#include "report/maps/bed_map_picture.h"
#include "report/text/bed_text.h"

#include "base/errors.h"

#include <algorithm>
#include <cstdlib>
#include <doctest/doctest.h>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

using namespace leastwall;
using Json = nlohmann::ordered_json;

namespace {

BedReadings judged(const std::string& text) {
  BedReadings out{"bed.csv", parse_readings(text, "bed.csv"), {}};
  FlatnessOptions options;
  options.tilt_known = out.read.tilt_known;
  out.flatness = judge_flatness(out.read.map.points(), options);
  return out;
}

/// Everything a report can hold.
BedReport full_report() {
  BedReport r;
  r.readings = judged("# leastwall: height-unit = mm; high = plus\nx,y,z\n0,0,0.1\n100,0,0.0\n"
                      "200,0,0.1\n0,100,0.0\n100,100,0.25\n200,100,0.0\n0,200,0.1\n100,200,0.0\n"
                      "200,200,0.1\n");
  r.sag = SagRow{"MDF 18 mm thick", "on 600 by 600 mm of it", BedSag{0.146, 0.146, 0, 0}, 41.2,
                 BedSag{0.131, 0.131, 0, 0}};
  r.tram = TramRow{0.0286, Surfacing{25, 15, 0.0286}, TramMarks{0.006, 0.00125, 0.0075}};
  r.piece = BedPiece{"a job with a long name.toml",
                     "Gourd lantern, left half",
                     Verdict::thin,
                     0.5,
                     0.41,
                     {{"Zero side B on top of the board", 0.05, Verdict::at_risk, "free"}},
                     "TOO THIN",
                     ""};
  ResurfaceRow row;
  row.advised = true;
  row.verdict_now = Verdict::thin;
  row.verdict_after = Verdict::safe;
  row.verdict_between = Verdict::thin;
  row.verdict_free = Verdict::at_risk;
  row.free_change = "Zero side B on top of the board";
  row.gain_mm = 0.3;
  row.flatness_mm = 0.25;
  row.residual_mm = 0.02;
  row.residual_from = "as stated";
  row.depth_mm = 0.35;
  row.passes = 2;
  row.depth_per_pass_mm = 0.25;
  row.left.board_mm = 17.65;
  row.area = {{-100, -50}, {100, 50}};
  row.notices = {{"resurface-dust", "Surfacing board makes fine dust."}};
  r.resurface = row;
  r.warnings = {{"large-range", "The readings differ much."}};
  r.assumptions = {{"1 is used", "seed", "1"}};
  return r;
}

bool valid(const std::string& text) {
  const std::filesystem::path file = std::filesystem::path(LEASTWALL_BUILD_DIR) / "bed_report.json";
  std::ofstream(file, std::ios::binary) << text;
  const std::string source = LEASTWALL_SOURCE_DIR;
  const std::string command = "python3 '" + source + "/tests/report/json/validate_json.py' '" +
                              source + "/src/report/json/bed.schema.json' '" + file.string() + "'";
  const bool ok = std::system(command.c_str()) == 0;
  std::filesystem::remove(file);
  return ok;
}

int width_of(const std::string& png) {
  // PNG (ISO/IEC 15948): width is the big-endian number at byte 16.
  int width = 0;
  for (std::size_t i = 16; i < 20; ++i)
    width = width * 256 + static_cast<unsigned char>(png[i]);
  return width;
}

} // namespace

TEST_CASE("JSON of bed: the keys scripts rely on, and its schema accepts it") {
  // JSON Schema 2020-12, checked by the python3-jsonschema library.
  const std::string text = bed_json(full_report());
  CHECK(valid(text));
  const Json json = Json::parse(text);
  CHECK(json["schema"] == "leastwall/bed/1");
  const Flatness flat = full_report().readings->flatness;
  CHECK(json["flatness"]["least_squares_um"].get<double>() ==
        doctest::Approx(1000 * flat.least_squares.peak_to_valley_mm));
  CHECK(json["flatness"]["minimum_zone_um"].get<double>() ==
        doctest::Approx(1000 * flat.minimum_zone.normal_mm));
  CHECK(json["flatness"]["contacts"].size() == flat.minimum_zone.contacts.size());
  CHECK(json["tilt"]["x_mm_per_m"] == 0);
  CHECK(json["highest"] == Json{{"x_mm", 100}, {"y_mm", 100}, {"height_mm", 0.25}});
  CHECK(json["resurface"]["advised"] == true);
  CHECK(json["resurface"]["depth_mm"] == 0.35);
  CHECK(json["resurface"]["passes"] == 2);
  CHECK(json["resurface"]["board_left_mm"] == 17.65);
  CHECK(json["resurface"]["verdict_now"] == "thin");
  CHECK(json["resurface"]["verdict_after"] == "safe");

  Json broken = json;
  broken["flatness"].erase("contacts");
  CHECK_FALSE(valid(broken.dump()));
  broken = json;
  broken["resurface"]["verdict_now"] = "fine";
  CHECK_FALSE(valid(broken.dump()));
}

TEST_CASE("JSON of bed: what is absent is left out") {
  CHECK(valid(bed_json(BedReport{})));
  BedReport gaps;
  gaps.readings = judged("# leastwall: measures = gaps; height-unit = mm\ndistance,gap\n0,0\n"
                         "100,0.05\n200,0\n");
  const std::string text = bed_json(gaps);
  CHECK(valid(text));
  const Json json = Json::parse(text);
  CHECK(json["measures"] == "gaps");
  CHECK_FALSE(json.contains("tilt")); // a straightedge sees none
  CHECK_FALSE(json.contains("resurface"));
  CHECK_FALSE(json.contains("sag"));
}

TEST_CASE("a reading that stands alone and a step: in text, JSON and schema") {
  // A 5 x 5 grid, level, with a step of 0.15 mm between x 100 and 150 and 0.3 mm at one place.
  std::string text = "# leastwall: height-unit = mm; high = plus\nx,y,z\n";
  for (int j = 0; j < 5; ++j)
    for (int i = 0; i < 5; ++i)
      text += std::to_string(50 * i) + "," + std::to_string(50 * j) + "," +
              (i == 1 && j == 3 ? "0.30"
               : i > 2          ? "0.15"
                                : "0.00") +
              "\n";
  BedReport r;
  r.readings = judged(text);
  const std::string told = bed_text(r, {});
  CAPTURE(told);
  const auto squeezed = [](const std::string& from) {
    std::string out;
    for (const char c : from)
      if (!(c == ' ' && !out.empty() && out.back() == ' '))
        out += c == '\n' ? ' ' : c;
    return out;
  };
  for (const char* words :
       {"step +0.150 mm at x 125.0", "alone +0.300 mm at x 50.0 y 150.0",
        "0.300 mm above all its neighbours", "A step up by 0.150 mm near x 125.0"}) {
    CAPTURE(words);
    CHECK(squeezed(squeezed(told)).find(words) != std::string::npos);
  }
  const std::string json_words = bed_json(r);
  CHECK(valid(json_words));
  const Json shape = Json::parse(json_words)["shape"];
  REQUIRE(shape["lone_readings"].size() == 1);
  CHECK(shape["lone_readings"][0]["x_mm"] == 50);
  CHECK(shape["lone_readings"][0]["off_mm"].get<double>() == doctest::Approx(0.3));
  REQUIRE(shape["steps"].size() == 1);
  CHECK(shape["steps"][0]["along"] == "x");
  CHECK(shape["steps"][0]["at_mm"] == 125);
  CHECK(shape["steps"][0]["height_mm"].get<double>() == doctest::Approx(0.15));
}

TEST_CASE("text of bed keeps to the width and says what matters") {
  for (const bool inch : {false, true})
    for (const int width : {80, 60}) {
      TextOptions options;
      options.width = width;
      options.show_inch = inch;
      const std::string text = bed_text(full_report(), options);
      std::istringstream lines(text);
      for (std::string line; std::getline(lines, line);)
        CHECK(text_columns(line) <= width);
    }
  const std::string text = bed_text(full_report(), {});
  for (const char* words :
       {"TOO THIN on this bed", "Resurface the spoilboard before side A", "minimum zone", "upper",
        "lower", "highest", "Likely cause", "under the board", "out of tram",
        "! The readings differ much.", "0.35 mm below the highest place, 2 passes"}) {
    CAPTURE(words);
    CHECK(text.find(words) != std::string::npos);
  }
}

TEST_CASE("the answer comes first, what only the metrologist asks for last") {
  std::string text = bed_text(full_report(), {});
  CHECK(text.starts_with("Resurface the spoilboard before side A"));
  std::ranges::replace(text, '\n', ' ');
  std::size_t at = 0;
  for (const char* words :
       {"the bed is flat within 0.250 mm", "TOO THIN on this bed", "What surfacing would take",
        "0.35 mm below the highest place", "What would help", "The bed is flat within 0.250 mm",
        "Likely cause", "highest ", "What to mind",
        "The readings were understood as:", "least squares plane", "Contacts that prove"}) {
    CAPTURE(words);
    at = text.find(words, at);
    REQUIRE(at != text.npos);
  }
  CHECK(text.find("[large-range]") == text.npos);
  CHECK(text.find("seed") == text.npos);
  BedReport alone = full_report();
  alone.piece.reset();
  alone.resurface.reset();
  text = bed_text(alone, {});
  CHECK(text.starts_with("The bed is flat within 0.250 mm, as the spindle sees it"));
  CHECK(text.find("Whether that is flat enough") != text.npos);
}

TEST_CASE("heights to colours: levels are round, the lightness rises all the way") {
  const HeightScale scale(-0.07, 0.21);
  CHECK(scale.levels().size() >= 4);
  for (const double level : scale.levels()) {
    CHECK(level > -0.07);
    CHECK(level < 0.21);
    CHECK(std::abs(level * 20 - std::round(level * 20)) < 1e-9); // twentieths of a mm
  }
  CHECK(scale.text(0.05) == "+0.05");
  CHECK(scale.text(0) == "0.00");
  double before = -1;
  for (double z = -0.07; z < 0.21; z += 0.004) {
    const double light = relative_luminance(scale.colour(z));
    CHECK(light > before); // so that it reads on a grey printer
    before = light;
  }
  CHECK(HeightScale(1, 1).levels().empty()); // a level bed has no contours
}

TEST_CASE("picture of the bed: same bytes every time, width as asked, marks change it") {
  const BedReport r = full_report();
  const BedMap& map = r.readings->read.map;
  BedPictureOptions options;
  options.width_px = 600;
  options.title = "The bed";
  PieceOnBed piece{
      {{10, 20}, {120, 150}}, {{80, 20}, {190, 150}}, {20, 30}, {180, 30}, FlipLine::along_y, 100};
  const std::string bare = draw_bed_map(map, r.readings->flatness, std::nullopt, options);
  const std::string full = draw_bed_map(map, r.readings->flatness, piece, options);
  CHECK(width_of(full) == 600);
  CHECK(full == draw_bed_map(map, r.readings->flatness, piece, options));
  CHECK(full != bare);
  piece.line = FlipLine::along_x;
  CHECK(full != draw_bed_map(map, r.readings->flatness, piece, options));
  options.width_px = 399;
  CHECK_THROWS_AS(draw_bed_map(map, r.readings->flatness, piece, options), InputError);
}

TEST_CASE("beds without area still give a picture: one reading, a line, a level grid") {
  BedPictureOptions options;
  options.width_px = 400;
  for (const char* text : {"# leastwall: height-unit = mm\nx,y,z\n3,4,0.1\n",
                           "# leastwall: height-unit = mm\nx,y,z\n0,0,0.1\n50,0,0.2\n90,0,0.1\n",
                           "# leastwall: height-unit = mm\nx,y,z\n0,0,1\n9,0,1\n0,9,1\n9,9,1\n"}) {
    const BedReadings r = judged(text);
    CHECK(width_of(draw_bed_map(r.read.map, r.flatness, std::nullopt, options)) == 400);
  }
}
