#include "bed/bed_map.h"
#include "job/read_tables.h"
#include "setup/wood_table.h"

#include <cmath>

namespace leastwall {
namespace {

void read_thickness(const TableReader& table, Board& board) {
  constexpr double kFarOff = 0.25; // of the thickness: more is a slip of the pen or of the unit
  table.not_both("measured", "readings",
                 "keep the readings, or one measured thickness with its variation");
  table.not_both("variation", "readings", "the readings show the variation; remove it");
  table.needs("variation_length", "variation");
  board.assumed_thickness_mm = table.number("thickness");
  if (table.has("readings")) {
    board.thickness_readings = read_map(table, "readings");
    for (const Vec3& reading : board.thickness_readings->points())
      if (std::abs(reading.z - *board.assumed_thickness_mm) > kFarOff * *board.assumed_thickness_mm)
        table.fail("readings", "board.readings differ from board.thickness by more than a quarter "
                               "of it; check values and units");
  } else {
    board.measured_thickness_mm = table.number("measured");
    board.variation_mm = table.number("variation").value_or(0);
    board.variation_length_mm = table.number("variation_length");
  }
  if (board.measured_thickness_mm &&
      std::abs(*board.measured_thickness_mm - *board.assumed_thickness_mm) >
          kFarOff * *board.assumed_thickness_mm)
    table.fail("measured", "board.measured differs from board.thickness by more than a quarter of "
                           "it; check both values and their unit");
  board.thickness_error = table.uncertain("thickness_error").value_or(Uncertain{});
}

/// Swelling of the stated species through the thickness, as a fraction per % of moisture.
double swelling_of(const TableReader& table, const Board& board) {
  try {
    const WoodSpecies& wood = find_wood(*board.species);
    return board.grain == Board::Grain::radial ? wood.radial_per_percent
                                               : wood.tangential_per_percent;
  } catch (const InputError& error) {
    table.fail("species", fmt::format("board.species: {}", error.what()));
  }
}

void read_wood(const TableReader& table, Board& board) {
  table.not_both("species", "swelling", "the species has its own swelling; keep one of them");
  table.needs("grain", "species");
  table.needs("species", "grain");
  board.species = table.text("species");
  board.grain = table.choice<Board::Grain>(
      "grain", {{"radial", Board::Grain::radial}, {"tangential", Board::Grain::tangential}});
  board.swelling_per_percent = board.species ? swelling_of(table, board) : table.number("swelling");
  board.moisture_change_percent = table.number("moisture_gain").value_or(0);
  if (board.moisture_change_percent != 0 && !board.swelling_per_percent)
    table.fail("moisture_gain", "board.moisture_gain needs the wood; state board.species and "
                                "board.grain, or board.swelling");
  if (board.moisture_change_percent != 0 && board.species)
    table.source().assumptions.push_back(
        {fmt::format("{} swells by {:.6g} of its thickness per % of moisture (Wood Handbook table)",
                     *board.species, *board.swelling_per_percent)});
}

} // namespace

std::optional<Footprint> read_rectangle(const TableReader& table) {
  table.needs("size", "corner");
  table.needs("corner", "size");
  const auto corner = table.point2("corner");
  const auto size = table.point2("size");
  if (!corner || !size)
    return std::nullopt;
  if (size->x <= 0 || size->y <= 0)
    table.fail("size", table.path_of("size") +
                           " must be two lengths above 0: width along x, depth along y");
  return Footprint{*corner, {corner->x + size->x, corner->y + size->y}};
}

Board read_board(const TableReader& table) {
  Board board;
  read_thickness(table, board);
  board.footprint = read_rectangle(table);
  read_wood(table, board);
  board.resin_cup_mm = table.number("resin_cup").value_or(0);
  return board;
}

} // namespace leastwall
