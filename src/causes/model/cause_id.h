// What a cause is, apart from how it is called: seeds of its random numbers, lookups and words go
// by this alone.
#pragma once

#include "base/side.h"

#include <compare>
#include <cstdint>
#include <optional>

namespace leastwall {

/// The numbers seed the trials: a new kind gets a new number, none is used twice or changed.
enum class CauseKind : std::uint8_t {
  touch_off = 0,
  tool_setter = 1, ///< instance 0: the bit on the datum, 1: the finishing bit
  touch_plate = 2,
  tip_height = 3,
  roughing = 4,
  ball_radius = 5,
  runout = 6,
  sanding = 7,
  uneven_sanding = 8,
  bed_flatness = 9,
  bed_seat = 10, ///< the bed as read, under one side
  bed_reading = 11,
  board_as_read = 12,
  board_against_program = 13,
  board_against_two_programs = 14,
  board_thickness = 15,
  board_at_touch = 16, ///< instance 0: one point serves both sides, 1: side A's, 2: side B's
  board_under_wall = 17,
  flip_line = 18,
  dowel_play = 19, ///< instance 1, 2: the pin
  out_of_square = 20,
  swelling = 21,
  resin_cup = 22,
  pad_reading = 23,
  glue_up_play = 24 ///< instance 1, 2: the dowel in one half; 3, 4: in the other
};

struct CauseId {
  CauseKind kind = CauseKind::touch_off;
  std::optional<Side> side = {}; ///< absent: of the board, the bed or the flip
  std::uint32_t instance = 0;    ///< among those of one kind, side and set-up
  bool in_pad = false;           ///< the draw that a witness pad has on its own
  /// Which set-up of its side it belongs to; of a touch-off which touch-off, of the radius and the
  /// runout of a bit which bit; 0: the first.
  std::uint32_t set_up = 0;
  /// Of a job with several boards the board it belongs to; 0: the first, or all of them.
  std::uint32_t board = 0;

  bool operator==(const CauseId&) const = default;
};

/// Whether one error serves every board: of the machine, its bits and its bed.
constexpr bool of_all_boards(CauseKind kind) {
  return kind == CauseKind::touch_plate || kind == CauseKind::ball_radius ||
         kind == CauseKind::runout || kind == CauseKind::bed_flatness ||
         kind == CauseKind::bed_seat || kind == CauseKind::bed_reading ||
         kind == CauseKind::out_of_square;
}

/// Whether it comes from the height of the bed: gone or another one once the bed is resurfaced.
constexpr bool is_of_bed(CauseKind kind) {
  return kind == CauseKind::bed_flatness || kind == CauseKind::bed_seat;
}

} // namespace leastwall
