#include "bed/readings/read_readings.h"

#include "base/errors.h"

#include <algorithm>
#include <cmath>
#include <doctest/doctest.h>
#include <set>

using namespace leastwall;
using doctest::Approx;

namespace {

const std::filesystem::path kFolder =
    std::filesystem::path(LEASTWALL_SOURCE_DIR) / "tests/data/readings";

/// The bed that every file in the folder writes down in its own way, height in mm.
double bed(double x, double y) {
  static const double h[3][4] = {{0, 3, 5, 8}, {-2, 1, 4, 6}, {-5, -1, 2, 4}};
  return h[std::lround(y / 100)][std::lround(x / 100)] / 100;
}

void check_bed(const ReadingsFile& f, std::size_t places = 12) {
  CHECK(f.map.points().size() == places);
  CHECK(f.map.is_grid());
  for (const Vec3& p : f.map.points()) {
    CAPTURE(p.x);
    CAPTURE(p.y);
    CHECK(std::fabs(p.x - 100 * std::round(p.x / 100)) < 1e-5);
    CHECK(std::fabs(p.z - bed(p.x, p.y)) < 2e-9);
  }
}

bool has_notice(const ReadingsFile& f, const std::string& code) {
  for (const Notice& n : f.notices)
    if (n.code == code)
      return true;
  return false;
}

bool says(const ReadingsFile& f, const std::string& words) {
  for (const std::string& s : f.understood)
    if (s.find(words) != std::string::npos)
      return true;
  return false;
}

std::string refusal(const std::string& file, const ReadingsOptions& options = {}) {
  try {
    read_readings(kFolder / "malformed" / file, options);
  } catch (const InputError& e) {
    return e.what();
  }
  return "";
}

} // namespace

TEST_CASE("one bed in many formats reads as the same heights") {
  for (const char* file : {"points_commas.csv",
                           "points_semicolons_decimal_comma.csv",
                           "points_tabs.txt",
                           "points_blanks.txt",
                           "points_blanks_decimal_comma.txt",
                           "points_headers_comments_blank_lines.csv",
                           "points_shuffled.csv",
                           "points_columns_in_other_order.csv",
                           "points_hundredths.csv",
                           "points_micrometres.csv",
                           "points_inch.csv",
                           "points_thousandths.csv",
                           "points_high_is_minus.csv",
                           "points_quoted_decimal_comma.csv",
                           "points_minus_signs_of_a_word_processor.csv",
                           "points_old_line_ends.csv",
                           "grid_far_row_first.csv",
                           "grid_near_row_first.csv",
                           "grid_labelled.csv",
                           "grid_labelled_empty_corner.txt"}) {
    CAPTURE(std::string(file));
    const ReadingsFile f = read_readings(kFolder / file);
    check_bed(f);
    CHECK(f.readings == 12);
    CHECK(f.missing == 0);
    CHECK(f.kind == ReadingsKind::heights);
    CHECK(f.tilt_known);
    CHECK(f.notices.empty());
    CHECK(f.understood.size() >= 4);
  }
}

TEST_CASE("what was understood is said, guesses as guesses") {
  const ReadingsFile plain = read_readings(kFolder / "points_semicolons_decimal_comma.csv");
  CHECK(says(plain, "Rows of x, y, reading, cells between semicolons, decimal comma."));
  CHECK(says(plain, "Heights in mm (taken so, not stated)"));
  CHECK(says(plain, "Higher places give larger numbers (taken so, not stated)."));
  CHECK(says(plain, "4 columns, x 0 to 300 mm, and 3 rows, y 0 to 200 mm"));
  CHECK(
      says(read_readings(kFolder / "points_hundredths.csv"), "Heights in 0.01 mm, places in mm."));
  CHECK(says(read_readings(kFolder / "points_inch.csv"), "Heights in inch, places in inch."));
  CHECK(says(read_readings(kFolder / "points_high_is_minus.csv"),
             "Higher places give smaller numbers."));
}

TEST_CASE("options say what the file cannot") {
  ReadingsOptions o;
  o.pitch_x_mm = 100;
  const ReadingsFile far = read_readings(kFolder / "grid_bare.csv", o);
  check_bed(far);
  CHECK(has_notice(far, "row-order")); // it was a guess
  o.first_row_far = false;
  const ReadingsFile near = read_readings(kFolder / "grid_bare.csv", o);
  CHECK(*near.map.height_mm(0, 0) == Approx(bed(0, 200))); // mirrored
  CHECK_FALSE(has_notice(near, "row-order"));
  o.pitch_y_mm = 25;
  o.origin_x_mm = -50;
  o.origin_y_mm = 10;
  o.high_is_plus = false;
  o.height_unit = HeightUnit::inch;
  const ReadingsFile all = read_readings(kFolder / "grid_bare.csv", o);
  CHECK(*all.map.height_mm(250, 60) == Approx(-0.08 * 25.4));
}

TEST_CASE("inch places do not say that the heights are inches, nor that they are not: a doubt") {
  ReadingsOptions o;
  o.place_unit = LengthUnit::inch;
  const std::string text = "0, 0, 0.001\n10, 0, 0.002\n0, 8, -0.004\n10, 8, 0.002\n";
  const auto doubted = [&](const ReadingsFile& f) {
    return std::ranges::any_of(f.notices, [](const Notice& n) {
      return n.code == "height-unit" && n.severity == Severity::doubt;
    });
  };
  CHECK(doubted(parse_readings(text, "bed.csv", o)));
  o.height_unit = HeightUnit::inch;
  CHECK_FALSE(doubted(parse_readings(text, "bed.csv", o)));
  o.height_unit = HeightUnit::mm;
  CHECK_FALSE(doubted(parse_readings(text, "bed.csv", o)));
  CHECK_FALSE(doubted(parse_readings(text, "bed.csv", {})));
}

TEST_CASE("missing readings are absent, not zero") {
  const ReadingsFile points = read_readings(kFolder / "points_missing.csv");
  CHECK(points.missing == 2);
  CHECK(points.readings == 10);
  CHECK(points.map.missing() == 2);
  check_bed(points, 10);
  CHECK_FALSE(points.map.height_mm(300, 200));
  const ReadingsFile grid = read_readings(kFolder / "grid_missing.txt");
  CHECK(grid.missing == 2);
  check_bed(grid, 10);
  CHECK(grid.map.height_mm(100, 100)); // bridged by its neighbours
}

TEST_CASE("scattered places and places read twice") {
  const ReadingsFile scattered = read_readings(kFolder / "points_scattered.csv");
  CHECK_FALSE(scattered.map.is_grid());
  CHECK(scattered.map.points().size() == 6);
  CHECK(says(scattered, "6 scattered places"));
  const ReadingsFile twice = read_readings(kFolder / "points_read_twice.csv");
  CHECK(twice.repeated == 1);
  CHECK(twice.largest_repeat_difference_mm == Approx(0.02));
  CHECK(*twice.map.height_mm(0, 0) == Approx(0.01)); // the mean
  CHECK(twice.map.is_grid());
}

TEST_CASE("pitch and origin in inches") {
  const ReadingsFile f = read_readings(kFolder / "grid_inch_pitch.txt");
  CHECK(f.map.grid_x_mm().front() == Approx(25.4));
  CHECK(f.map.grid_x_mm().back() == Approx(25.4 + 8 * 25.4));
  CHECK(f.map.grid_y_mm().back() == Approx(12.7 + 2 * 25.4));
  CHECK(*f.map.height_mm(25.4, 12.7) == Approx(0.0254)); // 1 thousandth
}

TEST_CASE("gaps under a straightedge: curvature yes, tilt no") {
  const ReadingsFile f = read_readings(kFolder / "straightedge_gaps.csv");
  CHECK(f.kind == ReadingsKind::gaps);
  CHECK_FALSE(f.tilt_known);
  CHECK(*f.map.height_mm(300, 0) == Approx(-0.10)); // the gap is below the edge
  CHECK(*f.map.height_mm(75, 0) == Approx(-0.04));
  CHECK(says(f, "tilt and height are not"));
  ReadingsOptions o;
  o.kind = ReadingsKind::gaps;
  const ReadingsFile area = parse_readings("0 0 0\n500 0 0\n0 400 0.1\n500 400 0\n", "gaps.txt", o);
  CHECK(has_notice(area, "gaps-area"));
}

TEST_CASE("the same reader takes board thicknesses") {
  const ReadingsFile f = read_readings(kFolder / "board_thickness.csv");
  CHECK(f.kind == ReadingsKind::thickness);
  CHECK(*f.map.height_mm(0, 0) == Approx(20.12));
  CHECK(says(f, "Thicknesses of the board in mm"));
}

TEST_CASE("a wide bed range is read but remarked on") {
  const ReadingsFile f = parse_readings("x,y,z [mm]\n0,0,0\n500,0,4.5\n0,500,1\n", "wide.csv");
  CHECK(has_notice(f, "large-range"));
}

TEST_CASE("malformed files are refused with file, line and what to do") {
  struct Row {
    const char *file, *line, *part;
  };
  const Row rows[] = {
      {"typo_in_a_number.csv",
       ":3: ", "\"O.2\" has the letter O where the digit 0 belongs; write 0.2"},
      {"typo_in_the_first_row.csv",
       ":1: ", "\"O.1\" has the letter O where the digit 0 belongs; write 0.1"},
      {"short_row.csv", ":3: ", "2 cells here but 3 in line 2"},
      {"ragged_grid.txt", ":3: ", "3 cells here but 4 in line 2"},
      {"grid_without_pitch.csv", ":1: ", "a grid without places; say the pitch"},
      {"three_column_grid_without_pitch.txt", ":1: ", "if it is a grid of heights, say the pitch"},
      {"comma_for_everything.csv", ":2: ", "is the comma both separator and decimal mark?"},
      {"comma_and_point.csv", ":2: ", "decimal comma here but decimal point in line 3"},
      {"thousands_mark.csv", ":3: ", "write numbers without thousands marks"},
      {"hundredths_without_unit.csv", ":3: ", "say the unit"},
      {"unknown_key.csv", ":1: ", "unknown key pich; known are"},
      {"unknown_value.csv", ":1: ", "high = up is not understood; give plus or minus"},
      {"directive_without_value.csv", ":1: ", "\"pitch\" is not of the form key = value"},
      {"unit_contradicts_heading.csv", ":2: ", "the heading says mm but 0.001 inch was stated"},
      {"place_missing.csv", ":3: ", "the place of this reading is missing"},
      {"place_far_away.csv", ":3: ", "lies more than 100 m away"},
      {"all_missing.csv", ": ", "every reading in it is missing"},
      {"empty.csv", ": ", "there are no readings in it"},
      {"words_only.txt", ": ", "there are no readings in it"},
      {"negative_gap.csv", ":3: ", "is below 0"},
      {"zero_thickness.csv", ":3: ", "a thickness of 0 is not above 0"},
      {"unit_in_the_cell.csv", ":2: ", "\"0.1mm\" is not a number"},
      {"zero_pitch.txt", ":1: ", "give lengths above 0"},
      {"infinite.csv", ":2: ", "\"inf\" is not a number"},
      {"more_cells_than_one_line_can_explain.txt", ":1: ", "say the pitch"},
      {"sixteen_bit_text.csv", ": ", "is text in UTF-16; save it as UTF-8 or plain text"},
  };
  std::set<std::string> covered;
  for (const Row& row : rows) {
    CAPTURE(std::string(row.file));
    const std::string message = refusal(row.file);
    CAPTURE(message);
    CHECK(message.find(std::string(row.file) + row.line) != std::string::npos);
    CHECK(message.find(row.part) != std::string::npos);
    CHECK(message.find('\n') == std::string::npos);
    covered.insert(row.file);
  }
  for (const auto& entry : std::filesystem::directory_iterator(kFolder / "malformed"))
    CHECK(covered.count(entry.path().filename().string()) == 1);
}

TEST_CASE("a row that begins with a number is never taken for a heading") {
  const std::string flat = "\n0 0 0\n100 0 0\n0 100 0";
  for (const char* high : {"46 5 0.4 mm", "46 5 0.4 about", "46 5 O.4", "46mm 5 0.4 mm",
                           "46mm 5mm 0.4mm high", "-46 mm 5 mm 0.4 mm", "46;5;0.4 mm"}) {
    CAPTURE(high);
    CHECK_THROWS_AS(parse_readings(high + flat, "bed"), InputError);
  }
  // Blanks that do not break a line (U+00A0, U+202F) are blanks.
  for (const char* high : {"46\xC2\xA0"
                           "5\xC2\xA0"
                           "0.4",
                           "46\xE2\x80\xAF"
                           "5\xE2\x80\xAF"
                           "0.4"})
    CHECK(parse_readings(high + flat, "bed").map.highest().z == 0.4);
  CHECK(parse_readings("Spoilboard, third sweep" + flat, "bed").readings == 3);
}

TEST_CASE("a title that names one column alone is no heading of columns") {
  const std::string rows = "0,0,0.1\n100,0,0.2\n0,100,0.3\n";
  for (const char* title :
       {"Heights of the spoilboard\n", "Readings, third sweep\n", "Distance from the left rail\n",
        "Heights of the bed\nx,y,height\n", "Position of the rail\nx,y,height\n"}) {
    CAPTURE(std::string(title));
    const ReadingsFile f = parse_readings(title + rows, "bed.csv");
    CHECK(f.readings == 3);
    CHECK(*f.map.height_mm(100, 0) == Approx(0.2));
    CHECK(*f.map.height_mm(0, 100) == Approx(0.3));
  }
}

TEST_CASE("an inch mark behind a number is refused, not dropped") {
  for (const char* text :
       {"0\t0\t0.035\"\n100\t0\t0.002\"\n0\t100\t0.001\"", "0,0,0.5\"\n9,0,0.1\"\n0,9,0"})
    CHECK_THROWS_AS(parse_readings(text, "bed"), InputError);
  CHECK(parse_readings("\"0\",\"0\",\"0.5\"\n\"9\",\"0\",\"0.1\"\n\"0\",\"9\",\"0\"", "bed")
            .map.highest()
            .z == 0.5);
}

TEST_CASE("statements that contradict each other are refused") {
  ReadingsOptions o;
  o.height_unit = HeightUnit::mm;
  CHECK_THROWS_WITH_AS(read_readings(kFolder / "grid_missing.txt", o),
                       doctest::Contains("grid_missing.txt:1: height-unit = 1/100 mm contradicts"),
                       InputError);
  ReadingsOptions k;
  k.kind = ReadingsKind::heights;
  CHECK_THROWS_WITH_AS(read_readings(kFolder / "board_thickness.csv", k),
                       doctest::Contains("disagree on what was measured"), InputError);
  CHECK_THROWS_WITH_AS(read_readings(kFolder / "not_there.csv"),
                       doctest::Contains("there is no such file"), InputError);
}

TEST_CASE(
    "what the text says is quoted without anything that breaks the line or steers a terminal") {
  // ISO/IEC 6429: ESC and CSI (U+009B) begin control sequences; 0xFF is never UTF-8 (RFC 3629).
  for (const std::string bad : {"\x1b[2J",
                                "\xC2\x9b"
                                "31m",
                                "\xFF", "\x0b"})
    for (const std::string& text :
         {"x,y,z\n0,0,0.1\n100,0," + bad + "1\n0,100,0.2\n", "# layout = " + bad + "\n0,0,0.1\n",
          "# " + bad + " = 1\n0,0,0.1\n", "# " + bad + "\n0,0,0.1\n",
          "# height-unit = " + bad + "\n0,0,0.1\n", bad + "1,2.5;1\n", bad,
          bad + " a b\n1 2 3\n"}) {
      CAPTURE(text);
      try {
        parse_readings(text,
                       "be\x1b"
                       "d.csv",
                       {});
      } catch (const InputError& e) {
        const std::string message = e.what();
        CAPTURE(message);
        CHECK(message.starts_with("be?d.csv"));
        CHECK(message.find_first_of("\n\r\x1b\x0b\xFF") == message.npos);
        CHECK(message.find("\xC2\x9b") == message.npos);
      }
    }
  CHECK_THROWS_WITH_AS(parse_readings("0,0,1\n100,0,\x1b[2J\n0,100,2\n", "bed.csv", {}),
                       doctest::Contains("bed.csv:2: \"?[2J\" is not a number"), InputError);
}
