// The program on jobs whose board, dowels, touch points or pad cannot be as stated.
#include "app/small_piece.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

using namespace leastwall;
using namespace leastwall::test;
using Json = nlohmann::json;

namespace {

/// A job of SmallPiece, 80 x 60 x 20 mm; the board is 140 x 120 mm unless stated.
struct BoardJob {
  std::string units = "mm", board = "thickness = 21",
              corner = "corner = [-70, -60]\nsize = [140, 120]",
              side_a = "zero = \"top\"\ntouch_point = [-65, -55]", side_b = side_a, flip;
};

std::string write(const SmallPiece& piece, const BoardJob& job) {
  return piece.folder
      .file(
          "job.toml",
          fmt::format("units = \"{}\"\nlimit = {}\n[board]\n{}\n{}\n[side_a]\n{}\ntouch_off = "
                      "0.01\n[side_b]\n{}\ntouch_off = 0.01\n[bed]\nflatness = 0\n{}\n[[part]]\n"
                      "skin = \"skin.stl\"\n[part.placing]\nunits = \"mm\"\n[[part.pocket]]\nmesh "
                      "= \"pocket.stl\"\n[part.pocket.placing]\nunits = \"mm\"\n",
                      job.units, job.units == "mm" ? 0.8 : 0.0315, job.board, job.corner,
                      job.side_a, job.side_b, job.flip))
      .string();
}

Json json_of(const SmallPiece& piece, const BoardJob& job) {
  const RunResult r = leastwall_program({"check", write(piece, job), "--json", "-"});
  INFO(r.err);
  REQUIRE(r.status <= 1);
  return Json::parse(r.out);
}

Json warning(const Json& result, const std::string& code) {
  for (const Json& w : result["warnings"])
    if (w["code"] == code)
      return w;
  return {};
}

} // namespace

TEST_CASE("a board thinner than the piece is refused, with both numbers, when that is certain") {
  const SmallPiece piece; // 20 mm deep
  const auto refused = [&](const std::string& board, const char* number) {
    BoardJob job;
    job.board = board;
    check_refused(leastwall_program({"check", write(piece, job)}), 2, {"20.00 mm deep", number});
  };
  refused("thickness = 19.5\nthickness_error = 0.2", "at most 19.70 mm");
  refused("thickness = 25\nmeasured = 19.5\nthickness_error = { standard = 0.1 }",
          "at most 19.70 mm");
  refused("thickness = 19.5\nthickness_error = 0.1\nvariation = 0.2", "at most 19.80 mm");
  const auto goes = [&](const std::string& board) {
    BoardJob job;
    job.board = board;
    return json_of(piece, job);
  };
  CHECK(warning(goes("thickness = 20"), "model-deeper-than-board").is_null());
  CHECK(warning(goes("thickness = 19.5\nthickness_error = 0.6"),
                "model-deeper-than-board")["severity"] == "doubt"); // it may be thick enough
  CHECK(goes("thickness = 19.5\nmeasured = 20.1")["verdict"] != "unproven");
  goes("thickness = 19.9\nthickness_error = { standard = 0.06 }");
  // A job in inches hears inches first.
  BoardJob inch;
  inch.units = "inch";
  inch.board = "thickness = 0.75";
  inch.corner = "corner = [-3, -2.5]\nsize = [6, 5]";
  inch.side_a = inch.side_b = "zero = \"top\"\ntouch_point = [-2.5, -2]";
  check_refused(leastwall_program({"check", write(piece, inch)}), 2,
                {"0.7874 in (20.00 mm) deep", "at most 0.7500 in (19.05 mm)"});
}

TEST_CASE("wood that may not be there proves no wall: the board's own face is then the skin") {
  const SmallPiece piece; // 20 mm deep, 2 mm of wall
  const auto found = [&](const std::string& board, const char* zero_b) {
    BoardJob job;
    job.board = board;
    job.side_b = std::string("zero = \"") + zero_b + "\"\ntouch_point = [" +
                 (std::string(zero_b) == "bed" ? "-75, 0]" : "-65, -55]");
    return json_of(piece, job);
  };
  // Side A leaves 18.5 - 18 = 0.5 mm at worst, whatever side B does on its own zero.
  const Json thin = found("thickness = 20\nmeasured = 19.3\nthickness_error = 0.8", "bed");
  CHECK(thin["verdict"] == "unproven");
  CHECK(warning(thin, "board-too-thin")["severity"] == "unproven");
  CHECK(has(warning(thin, "board-too-thin")["text"], "1.50 mm thinner"));
  CHECK(has(warning(thin, "board-too-thin")["text"], "as thin as 0.4")); // 2 - 0.02 - 1.5
  // 19.8 - 0.3 - 18 = 1.5 mm are left of 2: told, and it holds.
  const Json holds = found("thickness = 20\nmeasured = 19.8\nthickness_error = 0.3", "bed");
  CHECK(holds["verdict"] == "safe");
  CHECK(warning(holds, "board-too-thin")["severity"] == "doubt");
  CHECK(warning(found("thickness = 21\nthickness_error = 0.9", "bed"), "board-too-thin").is_null());
  // What varies and what shrinks counts: (21 - 0.5) (1 - 4 * 0.01) = 19.68.
  CHECK(has(
      warning(found("thickness = 21\nvariation = 0.5\nmoisture_gain = -4\nswelling = 0.01", "bed"),
              "board-too-thin")["text"],
      "0.32 mm thinner"));
  // On top of side B the skin hangs from that face itself: the program's own thickness counts.
  CHECK(warning(found("thickness = 20\nmeasured = 19.8\nthickness_error = 0.3", "top"),
                "board-too-thin")
            .is_null());
}

TEST_CASE("a part that lies beside its board is not proven; one that sticks out is a doubt") {
  const SmallPiece piece; // x -40 to 40
  BoardJob job;
  job.corner = "corner = [30, -60]\nsize = [140, 120]";
  job.side_a = job.side_b = "zero = \"top\"\ntouch_point = [100, -55]";
  const Json beside = json_of(piece, job);
  CHECK(beside["verdict"] == "unproven");
  CHECK(warning(beside, "model-off-board")["severity"] == "unproven");
  job.corner = "corner = [-36, -60]\nsize = [140, 120]";
  CHECK(warning(json_of(piece, job), "model-off-board")["severity"] == "doubt");
}

/// Readings of a flat bed as those of a board 21 mm thick.
std::string thick_rows(std::string text) {
  for (std::size_t at = 0; (at = text.find(", 0]", at)) != text.npos; at += 4)
    text.replace(at, 4, ", 21]");
  return "thickness = 21\n" + text;
}

TEST_CASE("readings that reach under half of the board or a part of the piece prove no wall") {
  const SmallPiece piece;
  const auto found = [&](const std::string& board, const std::string& bed) {
    BoardJob job;
    job.board = board;
    std::string text = file_text(write(piece, job));
    const std::string flat = "flatness = 0";
    text.replace(text.find(flat), flat.size(), bed);
    return Json::parse(
        leastwall_program({"check", piece.folder.file("read.toml", text).string(), "--json", "-"})
            .out);
  };
  const std::string board = "thickness = 21", origin = "origin = [0, 0]\nseating = \"pressed\"\n";
  // The board is 140 x 120 mm; x -70 to 70, y -60 to 60.
  const std::string whole = "readings = [[-70, -60, 0], [70, -60, 0], [-70, 60, 0], [70, 60, 0]]",
                    half = "readings = [[-70, -60, 0], [-1, -60, 0], [-70, 60, 0], [-1, 60, 0]]",
                    line = "readings = [[-70, 0, 0], [70, 0, 0]]", one = "readings = [[0, 0, 0]]";
  CHECK(warning(found(board, origin + whole), "bed-read-in-part").is_null());
  // The piece reaches from x -40 to 40: 41 or 68 of its 80 mm are not enough, 73 are.
  const auto read_to = [](const char* x) {
    return thick_rows(fmt::format("readings = [[-70, -60, 0], [{0}, -60, 0], [-70, 60, 0], "
                                  "[{0}, 60, 0]]",
                                  x));
  };
  CHECK_FALSE(warning(found(read_to("1"), "flatness = 0"), "board-read-in-part").is_null());
  CHECK_FALSE(warning(found(read_to("28"), "flatness = 0"), "board-read-in-part").is_null());
  CHECK(warning(found(read_to("33"), "flatness = 0"), "board-read-in-part").is_null());
  for (const std::string& bed : {half, line, one}) {
    const Json r = found(board, origin + bed);
    CHECK(r["verdict"] == "unproven");
    CHECK(warning(r, "bed-read-in-part")["severity"] == "unproven");
  }
  CHECK(warning(found(thick_rows(whole), "flatness = 0"), "board-read-in-part").is_null());
  for (const std::string& readings : {half, line, one}) {
    const Json r = found(thick_rows(readings), "flatness = 0");
    CHECK(r["verdict"] == "unproven");
    CHECK(warning(r, "board-read-in-part")["severity"] == "unproven");
  }
}

TEST_CASE("dowels in the piece: a doubt in text, JSON, page and sheet") {
  const SmallPiece piece;
  BoardJob job;
  job.flip =
      "[flip]\nline = \"along y\"\nat = 0\nlocated_by = \"dowels\"\n[flip.dowels]\nspacing = "
      "40\nclearance = 0.02";
  const Json in = json_of(piece, job);
  CHECK(warning(in, "dowel-in-piece")["severity"] == "doubt");
  const std::string out = (piece.folder.path() / "out").string();
  const RunResult text = leastwall_program({"check", write(piece, job), "--out", out});
  CHECK(
      has(text.out, "LOOK FIRST: A dowel stands in the piece, at x 0.0 y -20.0 and x 0.0 y 20.0"));
  CHECK(has(file_text(out + "/report.html"), "Look first: A dowel stands in the piece"));
  job.flip.replace(job.flip.find("40"), 2, "70"); // y 35, 5 mm from the edge at y 30
  const Json near = json_of(piece, job);
  CHECK(warning(near, "dowel-near-piece")["severity"] == "warning");
  CHECK(has(warning(near, "dowel-near-piece")["text"], "5.0 mm from its middle"));
  job.flip.replace(job.flip.find("70"), 2, "90");
  const Json clear = json_of(piece, job);
  CHECK(warning(clear, "dowel-near-piece").is_null());
  CHECK(warning(clear, "dowel-in-piece").is_null());
}

TEST_CASE("a board without room for a witness pad: none is printed, and a reading moves nothing") {
  const SmallPiece piece;
  BoardJob job;
  CHECK(json_of(piece, job)["pad"].contains("at_mm"));
  job.corner = "corner = [-50, -40]\nsize = [100, 80]"; // 10 mm of waste all round
  job.side_a = job.side_b = "zero = \"top\"\ntouch_point = [-45, -35]";
  const Json pad = json_of(piece, job)["pad"];
  CHECK_FALSE(pad.contains("at_mm"));
  CHECK_FALSE(pad.contains("should_read_mm"));
  CHECK(has(pad["not_cut"], "no room for a witness pad"));
  const RunResult text = leastwall_program({"check", write(piece, job)});
  CHECK(has(text.out, "The board has no room for a witness pad"));
  CHECK_FALSE(has(text.out, "Cut a flat pad"));
  const RunResult read =
      leastwall_program({"check", write(piece, job), "--pad-reading", "2.0", "--json", "-"});
  const Json measured = Json::parse(read.out)["pad"];
  CHECK(measured["reading_mm"] == 2.0);
  CHECK_FALSE(measured.contains("shift_mm"));
}

TEST_CASE("a job in inches speaks inches first, and --inches makes any job do so") {
  const SmallPiece piece;
  BoardJob job;
  CHECK_FALSE(has(leastwall_program({"check", write(piece, job)}).out, " in ("));
  CHECK(
      has(leastwall_program({"check", write(piece, job), "--inches"}).out, "0.0787 in (2.000 mm)"));
  job.units = "inch";
  job.board = "thickness = 0.8";
  job.corner = "corner = [-3, -2.5]\nsize = [6, 5]";
  job.side_a = job.side_b = "zero = \"top\"\ntouch_point = [-2.5, -2]";
  CHECK(has(leastwall_program({"check", write(piece, job)}).out, "0.0787 in (2.000 mm)"));
}
