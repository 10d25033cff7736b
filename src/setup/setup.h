// How the two cuts of a wall are made: everything about board, bed, bits and flip that moves the
// wall. Plain data, filled from a job file or from quick flags; `causes.h` turns it into errors.
//
// As a rule the inner cut is a pocket, made on side A, and the outer one the skin, made on side B.
// Between two pockets both are made on side A (`Setup::inner_cut`, `outer_cut`).
//
// Frame: model x right, y away, z up out of the pocket face, mm. Side A lies as drawn; side B is
// turned about the flip line. A point (x, y) is always a point *of the part* in model x, y; where
// the bed is meant, side A's bed place is the same x, y and side B's is the mirrored one.
//
// Unknown is absent: an optional left empty was not stated. Errors are zero-mean unless a shift is
// known; a positive shift or error has the sign said at the field.
#pragma once

#include "base/side.h"
#include "setup/resurfacing.h"
#include "space/footprint.h"
#include "space/vec3.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>

namespace leastwall {

class BedMap; // bed/bed_map.h

/// What is known about one error.
enum class Knowledge {
  limits,  ///< never beyond +-size, any value as likely (rectangular)
  standard ///< normal with standard uncertainty `size` (GUM); worst case takes 2 of them
};

struct Uncertain {
  double size_mm = 0;
  Knowledge knowledge = Knowledge::limits;
};

enum class ZeroFrom {
  top, ///< Z zero touched on the board's upper face as it lies
  bed  ///< Z zero touched on the spoilboard
};

enum class BitZero {
  retouched,  ///< every bit touches the datum again
  tool_setter ///< one bit touches the datum, lengths come from a setter
};

/// The bit that makes the final surface.
struct FinishingBit {
  Uncertain tip_height; ///< positive error: tip stands too high, cuts too shallow
  std::optional<double> ball_radius_mm;
  Uncertain radius;     ///< actual minus assumed ball radius
  double runout_mm = 0; ///< sideways overcut, at most this, always thinner
  BitZero zero = BitZero::retouched;
  Uncertain setter; ///< error of one reading of the setter
};

/// A roughing bit that leaves `allowance_mm` for the finishing bit.
struct Roughing {
  double allowance_mm = 0;
  /// Of its own touch on the datum. Absent with a tool setter: it is the bit that touches the
  /// datum, and the setter gives the finishing bit's length from it.
  std::optional<Uncertain> touch_off;
};

struct SideSetup {
  ZeroFrom zero = ZeroFrom::top;
  std::optional<Point2> touch_point; ///< on the part, model x, y
  Uncertain touch_off;               ///< positive: machine believes the datum higher than it is
  double plate_error_mm = 0;         ///< touch plate thicker than entered is positive (known shift)
  std::optional<double> assumed_thickness_mm; ///< in this side's program; default: the board's
  FinishingBit bit;
  std::optional<Roughing> roughing;
  double sanding_mm = 0;                   ///< taken along the normal
  Uncertain sanding;                       ///< from place to place
  std::optional<double> sanding_length_mm; ///< places this far apart are sanded independently
  /// Moisture content of the wood above that at the board's first set-up, % points, when this
  /// set-up cuts; default: 0 on side A, Board::moisture_change_percent on side B.
  std::optional<double> moisture_gain_percent;
  /// What a pocket's own table states; the rest is the job's and changes with it.
  struct Stated {
    bool zero = false, touch_point = false, touch_off = false, plate_error = false,
         thickness = false, bit = false, roughing = false;
  } stated;
  /// Where the pocket states some of this itself: what stands before "side_a" in the job's key,
  /// such as "part.pocket."; else empty.
  std::string pocket_key;
};

/// Which set-up makes a cut, and what it shares with others: an error belongs to its set-up, its
/// bit or its place, and is drawn once for all cuts that have the same one.
struct CutId {
  Side side = Side::a;      ///< that is up; the pocket face on A, the skin face on B
  std::uint32_t set_up = 0; ///< among those of this side, in the order of cutting
  std::uint32_t bit = 0;    ///< among the finishing bits of this side
  std::uint32_t touch = 0;  ///< among the touch-offs of this side: one for each bit of a set-up
  std::uint32_t datum = 0;  ///< among the data of this side: same zero, touched at the same point
  /// Where its datum is touched, among all such places of the job; default: its own, or that of
  /// the other cut where both name the same point.
  std::optional<std::uint32_t> touch_place = {};
  std::uint32_t board = 0; ///< among the boards of the job: each is set up on its own
  bool operator==(const CutId&) const = default;
};

struct Board {
  std::optional<Footprint> footprint; ///< default: the rectangle around all samples
  std::optional<double> assumed_thickness_mm;
  std::optional<double> measured_thickness_mm;
  Uncertain thickness_error; ///< of the measured (or, unmeasured, the assumed) thickness
  double variation_mm = 0;   ///< +- from place to place (wedge, snipe) without readings
  std::optional<double> variation_length_mm;        ///< places this far apart vary independently
  std::shared_ptr<const BedMap> thickness_readings; ///< mm at places of the part
  std::optional<std::string> species;
  enum class Grain { radial, tangential };
  std::optional<Grain> grain;         ///< the direction that runs through the thickness
  double moisture_change_percent = 0; ///< gain between side A and side B, % moisture content
  std::optional<double> swelling_per_percent; ///< overrides the species table
  double resin_cup_mm = 0; ///< measured lift of the middle on the bed after the pour
};

enum class Seating { unknown, pressed, rigid };

struct Bed {
  std::optional<double> flatness_mm;      ///< peak to valley, shape unknown
  std::shared_ptr<const BedMap> readings; ///< height, up positive, at bed places (see origin)
  Point2 part_origin_mm;                  ///< where model (0, 0) lies on the bed, side A
  bool part_origin_stated = false;        ///< else (0, 0) is only taken for it
  std::optional<Footprint> extent;        ///< of the spoilboard; bed frame
  Uncertain reading_error;
  Seating seating = Seating::unknown; ///< unknown: both computed, the thinner counts
  Resurfacing resurfacing;            ///< what surfacing it anew would meet and leave
};

/// The direction of the flip line in model space.
enum class FlipLine { along_x, along_y };

enum class LocatedBy { dowels, edges };

struct Dowels {
  double clearance_1_mm = 0, clearance_2_mm = 0; ///< diametral, largest, total per pin
  double spacing_mm = 0;
  std::optional<Point2> middle; ///< of the two pins, model x, y; default: on the flip line
  bool along_flip_line = true;  ///< the pins stand on the flip line; else across it
  bool each_stated = false;     ///< a play for each pin; else one number serves both
  bool from_diameters = false;  ///< the play follows from diameters or a fit
};

struct Flip {
  FlipLine line = FlipLine::along_y;
  double at_mm = 0; ///< x of a line along y, y of a line along x
  LocatedBy located_by = LocatedBy::dowels;
  std::optional<Dowels> dowels;
  Uncertain line_error;              ///< of the line itself: the skin moves by twice this
  double out_of_square_mm_per_m = 0; ///< limits, machine x against y
};

struct Setup {
  Board board;
  SideSetup inner, outer; ///< how the inner and the outer cut of the wall are made
  CutId inner_cut{.side = Side::a}, outer_cut{.side = Side::b};
  bool of_fill = false; ///< the wall is what was poured into the outer cut, not wood of the board
  /// The outer cut was made in such a fill itself: it rides on a floor that lies deeper.
  bool outer_in_fill = false;
  Bed bed;
  Flip flip;
  double top_z_mm = 0;   ///< model z of the pocket face
  bool has_land = false; ///< some walls end in the pocket face itself (causes/model/land.h)
  /// All of them do, whichever way they are looked at: what an outline at that face is asked.
  bool all_land = false;
};

/// Of a wall between a pocket and its skin: the pocket's set-up on side A, the skin's on side B.
inline const SideSetup& side_of(const Setup& setup, Side side) {
  return side == Side::a ? setup.inner : setup.outer;
}

inline SideSetup& side_of(Setup& setup, Side side) {
  return side == Side::a ? setup.inner : setup.outer;
}

/// Whether both hang from the same datum, touched at the same point.
inline bool same_datum(const SideSetup& a, const SideSetup& b) {
  return a.zero == b.zero && a.touch_point == b.touch_point;
}

/// Whether the wall lies between a cut of side A and one of side B.
inline bool through_board(const Setup& setup) {
  return setup.inner_cut.side == Side::a && setup.outer_cut.side == Side::b;
}

} // namespace leastwall
