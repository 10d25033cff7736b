#include "report/words/cause_text.h"

#include <fmt/format.h>

namespace leastwall {
namespace {

std::string numbered(const CauseId& id) {
  switch (id.kind) {
  case CauseKind::touch_off:
    return "touch-off";
  case CauseKind::tool_setter:
    return id.instance == 0 ? "tool setter, datum bit" : "tool setter, finishing bit";
  case CauseKind::touch_plate:
    return "touch plate";
  case CauseKind::tip_height:
    return "tip height of bit";
  case CauseKind::roughing:
    return "roughing marks";
  case CauseKind::ball_radius:
    return "ball radius of bit";
  case CauseKind::runout:
    return "sideways overcut of bit";
  case CauseKind::sanding:
    return "sanding";
  case CauseKind::uneven_sanding:
    return "uneven sanding";
  case CauseKind::bed_flatness:
    return "bed flatness";
  case CauseKind::bed_seat:
    return "bed";
  case CauseKind::bed_reading:
    return "bed readings";
  case CauseKind::board_as_read:
    return "board as read";
  case CauseKind::board_against_program:
    return "board against programs";
  case CauseKind::board_against_two_programs:
    return "board against two programs";
  case CauseKind::board_thickness:
    return "board thickness";
  case CauseKind::board_at_touch:
    return id.instance == 0   ? "uneven board, both touches"
           : id.instance == 1 ? "uneven board, touch A"
                              : "uneven board, touch B";
  case CauseKind::board_under_wall:
    return "uneven board under the wall";
  case CauseKind::flip_line:
    return "flip line";
  case CauseKind::dowel_play:
    return fmt::format("play of dowel {}", id.instance);
  case CauseKind::out_of_square:
    return "machine out of square";
  case CauseKind::swelling:
    return "wood swells between sides";
  case CauseKind::resin_cup:
    return "resin pulls board hollow";
  case CauseKind::pad_reading:
    return "reading of the pad";
  case CauseKind::glue_up_play:
    return fmt::format("play of glue-up dowel {}, {} half", (id.instance - 1) % 2 + 1,
                       id.instance <= 2 ? "one" : "other");
  }
  return {};
}

/// What stands between the name and the side.
const char* joint_of(CauseKind kind) {
  return kind == CauseKind::touch_off ? " of " : is_of_bed(kind) ? " under " : ", ";
}

/// The board bends the same on side B whatever is said: its side is not part of the name.
bool names_side(const CauseId& id) {
  return id.side && id.kind != CauseKind::resin_cup && id.kind != CauseKind::pad_reading;
}

/// Of a second board and later ones.
std::string board_of(const CauseId& id) {
  return id.board > 0 ? fmt::format(", board {}", id.board + 1) : "";
}

} // namespace

std::string cause_text(const CauseId& id) {
  return numbered(id) + (id.in_pad ? ", in the pad" : "") + board_of(id);
}

std::string cause_text_with_side(const CauseId& id) {
  const std::string later = id.set_up > 0 ? fmt::format(" {}", id.set_up + 1) : "";
  if (!names_side(id))
    return numbered(id) + (id.in_pad ? ", in the pad" : "") + later + board_of(id);
  return fmt::format("{}{}side {}{}{}{}", numbered(id), joint_of(id.kind),
                     *id.side == Side::a ? 'A' : 'B', later, id.in_pad ? ", in the pad" : "",
                     board_of(id));
}

std::string cause_text_short(const CauseId& id) {
  const std::string name =
      id.side ? cause_text(id) + (*id.side == Side::a ? ", A" : ", B") : cause_text(id);
  return id.set_up > 0 ? fmt::format("{} {}", name, id.set_up + 1) : name;
}

namespace {

/// `deviation` stands before a standard uncertainty.
std::string known(const CauseRow& cause, std::string_view deviation) {
  const std::string unit = " " + cause.unit;
  if (cause.allowance_mm)
    return fmt::format("{}{:.3f}{}, {:.3f} mm left on",
                       cause.distribution == Distribution::normal ? deviation : "+-", cause.size,
                       unit, *cause.allowance_mm);
  switch (cause.distribution.shape()) {
  case Distribution::shift:
    return cause.unit.empty() ? std::string("from readings")
                              : fmt::format("{:+.3f}{}", cause.size, unit);
  case Distribution::rectangle:
    return fmt::format("+-{:.3f}{}", cause.size, unit);
  case Distribution::normal:
    return fmt::format("{}{:.3f}{}", deviation, cause.size, unit);
  case Distribution::half_uniform:
    return fmt::format("0 to {:.3f}{}", cause.size, unit);
  case Distribution::disc:
    return fmt::format("{:.3f}{} any way", cause.size, unit);
  }
  return {};
}

} // namespace

std::string known_text(const CauseRow& cause) {
  return known(cause, "u ");
}

std::string known_words(const CauseRow& cause) {
  return known(cause, "standard ");
}

} // namespace leastwall
