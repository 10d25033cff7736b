// What a board that may be thinner than the piece is deep leaves of its walls, by hand.
#include "check/piece_in_board.h"

#include <cmath>
#include <doctest/doctest.h>
#include <fmt/format.h>

using namespace leastwall;

namespace {

/// Two cells of level skin, one at z -18 and one at z -20, each `edge` mm wide.
struct TwoLevels {
  WallMap map;
  std::vector<double> worst_mm;
  double counted_on_mm = 0;

  TwoLevels(double wall_high, double wall_low, double thinning, double edge) {
    for (const auto& [z, wall] : {std::pair{-18.0, wall_high}, {-20.0, wall_low}}) {
      const auto first = static_cast<std::uint32_t>(map.samples.size());
      for (const Vec3& p : {Vec3{0, 0, z}, Vec3{edge, 0, z}, Vec3{0, edge, z}}) {
        map.samples.push_back({p, {0, 0, -1}, wall});
        worst_mm.push_back(wall - thinning);
      }
      map.cells.push_back({first, first + 1, first + 2});
    }
  }
  std::vector<Notice> found(const Setup& setup, bool holds = true) const {
    Box box;
    for (const WallSample& s : map.samples)
      box.add(s.at);
    return thin_board_findings(setup, box, {map, worst_mm, counted_on_mm}, 0.5, holds);
  }
};

Setup board(double thickness, double error) {
  Setup s; // pocket face at z 0
  s.inner.zero = ZeroFrom::top;
  s.outer.zero = ZeroFrom::bed;
  s.board.assumed_thickness_mm = thickness;
  s.board.thickness_error = {error, Knowledge::limits};
  return s;
}

} // namespace

TEST_CASE("only walls beside the board's own face are shortened by it") {
  // The board may be 19.5 mm thick. The thin wall lies at 18 mm, the skin at 20 mm is thick.
  const TwoLevels thick_below(0.6, 5, 0.05, 0.01);
  const auto told = thick_below.found(board(19.8, 0.3));
  REQUIRE(told.size() == 1);
  CHECK(told[0].code == "board-too-thin");
  CHECK(told[0].severity == Severity::doubt); // 5 - 0.05 - 0.5
  CHECK(told[0].text.find("0.50 mm thinner") != std::string::npos);
  CHECK(told[0].text.find("as thin as 4.450 mm") != std::string::npos);
  // The same the other way round: 0.6 - 0.05 - 0.5 is under the limit.
  const TwoLevels thin_below(5, 0.6, 0.05, 0.01);
  const auto unproven = thin_below.found(board(19.8, 0.3));
  REQUIRE(unproven.size() == 1);
  CHECK(unproven[0].severity == Severity::unproven);
  CHECK(unproven[0].text.find("as thin as 0.050 mm") != std::string::npos);
  CHECK(thin_below.found(board(19.8, 0.3), false)[0].severity == Severity::doubt); // thin anyway
  // A board that is thick enough at its thinnest says nothing.
  CHECK(thin_below.found(board(20.3, 0.3)).empty());
  CHECK(thin_below.found(board(20.2, 0.3)).size() == 1);
  // Zero on top of side B: the skin hangs from the board's face.
  Setup top = board(20, 0.3);
  top.outer.zero = ZeroFrom::top;
  CHECK(thin_below.found(top).empty());
  top.outer.assumed_thickness_mm = 19.6; // the program cuts 0.4 mm above the face
  CHECK(thin_below.found(top)[0].text.find("0.40 mm thinner") != std::string::npos);
  // Nothing is known of the board.
  CHECK(thin_below.found(Setup{}).empty());
}

TEST_CASE("of a tilted cell the corner that lies farthest beyond the board counts") {
  TwoLevels tilted(5, 0.9, 0, 0.01);
  tilted.map.samples[3].at.z = -19; // of the lower cell; the others stay at -20
  const auto told = tilted.found(board(19.5, 0));
  REQUIRE(told.size() == 1);
  CHECK(told[0].text.find("0.50 mm thinner") != std::string::npos);
}

TEST_CASE(
    "between its corners a wall may be thinner, and what can be counted on is that at least") {
  // d^2 - |x|^2 is concave: no nearer than sqrt(0.9^2 - L^2 / 3) on a cell with longest edge L.
  const double edge = 0.4, longest2 = 2 * edge * edge;
  TwoLevels wide(5, 0.9, 0, edge);
  const double left = std::sqrt(0.81 - longest2 / 3) - 0.1;
  const auto told = wide.found(board(19.9, 0));
  REQUIRE(told.size() == 1);
  CHECK(told[0].text.find(fmt::format("as thin as {:.3f} mm", left)) != std::string::npos);
  wide.counted_on_mm = 0.88;
  CHECK(wide.found(board(19.9, 0))[0].text.find("as thin as 0.780 mm") != std::string::npos);
}

TEST_CASE("the thinnest board: lowest reading or as stated, less error, variation and shrinkage") {
  Board b;
  CHECK_FALSE(thinnest_board_mm(b).has_value());
  b.assumed_thickness_mm = 20;
  CHECK(*thinnest_board_mm(b) == 20);
  b.measured_thickness_mm = 19.8;
  b.thickness_error = {0.1, Knowledge::standard}; // two of them
  b.variation_mm = 0.05;
  CHECK(*thinnest_board_mm(b) == doctest::Approx(19.8 - 0.2 - 0.05));
  b.moisture_change_percent = -3;
  b.swelling_per_percent = 0.002;
  CHECK(*thinnest_board_mm(b) == doctest::Approx(19.55 * (1 - 0.006)));
  b.moisture_change_percent = 3; // what it gains is not counted on
  CHECK(*thinnest_board_mm(b) == doctest::Approx(19.55));
}
