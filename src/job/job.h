// A job: everything a check needs to know about pieces, set-ups and what is accepted. Lengths mm,
// model frame (x right, y away, z up out of the pocket face).
#pragma once

#include "base/assumption.h"
#include "base/notice.h"
#include "base/stated_key.h"
#include "base/units.h"
#include "pour/clock_time.h"
#include "pour/resin.h"
#include "setup/setup.h"
#include "space/footprint.h"
#include "space/vec3.h"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

enum class Mirror { none, x, y };
enum class UpAxis { plus_z, minus_z, plus_x, minus_x, plus_y, minus_y };

/// How a mesh comes to lie in the model frame. In this order: scaled by its unit, stood up so that
/// `up` becomes z, mirrored (left and right, or near and far, as it then lies), turned about z,
/// shifted.
struct MeshPlacing {
  std::optional<LengthUnit> units; ///< of files that state none; absent: as the file says, else mm
  Mirror mirror = Mirror::none;    ///< the model coordinate that changes its sign
  UpAxis up = UpAxis::plus_z;      ///< axis of the mesh that points out of the pocket face
  double turn_deg = 0;             ///< about z, counter-clockwise seen from above
  Vec3 shift_mm;
  int line = 0; ///< of the job file, where messages about the placing point: the shift's, if stated
  bool operator==(const MeshPlacing&) const = default;
};

struct Pocket {
  std::string name;
  std::optional<std::size_t> inside; ///< earlier pocket of the part whose resin it is cut into
  std::filesystem::path mesh;        ///< joined to the job file's folder
  MeshPlacing placing;
  double limit_mm = 0;
  /// The rim runs out: skin less than this below the pocket face need not hold; absent: it must.
  std::optional<double> rim_depth_mm;
  std::string material;                        ///< what is poured into it; may be empty
  std::optional<Resin> resin;                  ///< what is known of that; absent: nothing is stated
  SideSetup side_a, side_b;                    ///< the job's, with what this pocket states instead
  bool own_side_a = false, own_side_b = false; ///< set-ups of their own
  int line = 0;                                ///< of the job file
};

/// A drilled hole.
struct Hole {
  enum class From { pocket_face, skin_face };
  std::string name;
  Point2 at;                            ///< in the part's own frame
  double diameter_mm = 0, depth_mm = 0; ///< depth of the tip under the face
  From from = From::pocket_face;
  bool flat = false;    ///< no drill point of 118 degrees
  bool through = false; ///< meant to come out on the other side
  /// It takes a dowel of the glue-up and is so much wider than that; absent: it does not.
  std::optional<double> dowel_clearance_mm;
  double limit_mm = 0;
  SideSetup how; ///< the job's side it is drilled on, with a drill as the bit
  int line = 0;  ///< of the job file
};

/// How a part lies on the board: mirrored, turned about its own 0, 0, moved.
struct BoardPlacing {
  bool mirrored = false; ///< x changes its sign
  double turn_deg = 0;   ///< counter-clockwise seen from above
  Point2 place;          ///< of the part's own 0, 0
  bool operator==(const BoardPlacing&) const = default;
};

struct Part {
  std::string name;
  std::optional<std::size_t> mirror_of; ///< an earlier part that has the same meshes and pockets
  BoardPlacing on_board;
  std::uint32_t board = 0;    ///< which of several boards, all alike, it is cut from
  int line = 0;               ///< of the job file
  std::filesystem::path skin; ///< joined to the job file's folder
  MeshPlacing placing;
  std::vector<Pocket> pockets;
  std::vector<Hole> holes;
};

/// The pouring, as the job states it.
struct PourPlan {
  std::optional<ClockTime> start; ///< of the first lift
  std::optional<Tilt> tilt;       ///< absent: not stated
};

struct Job {
  std::string title;
  LengthUnit units = LengthUnit::mm; ///< of the file; reports use it too
  double accepted_chance = 0.05;     ///< of a wall under the limit, 0..1
  std::uint64_t trials = 20'000;
  std::uint64_t seed = 1;
  Board board;
  Bed bed;
  std::optional<Flip> flip; ///< absent: not stated
  /// Of the holes that its pins stand in, or of the pins; absent: no diameter was stated.
  std::optional<double> flip_hole_mm;
  /// Model z of the board's pocket face; absent: the top of the pocket's mesh.
  std::optional<double> pocket_face_z_mm;
  std::vector<Part> parts;
  PourPlan pour;
  std::vector<Assumption> assumptions;      ///< one line for each value that was not stated
  std::vector<Notice> notices;              ///< of files of readings
  std::vector<std::filesystem::path> files; ///< each file that the job names: meshes, readings
  std::vector<StatedKey> stated;            ///< every value of the file
};

/// The set-up of the wall between a pocket and its skin, as the causes want it. `top_z_mm` is used
/// where the job states no pocket face.
Setup setup_of(const Job& job, const Pocket& pocket, double top_z_mm);

} // namespace leastwall
