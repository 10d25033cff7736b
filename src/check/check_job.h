// The check of a whole job: every wall of every part, and what they come to together.
#pragma once

#include "check/check_piece.h"
#include "job/job_walls.h"
#include "parts/board_marks.h"
#include "parts/seam_step.h"

#include <array>
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

struct Pour; // report/pour/pour.h

/// One wall to check.
struct WallInput {
  std::string part, outer, inner, material; ///< NamedWall
  std::size_t part_number = 0;              ///< in the job
  bool drawn = true;                        ///< its two cuts are meshes that somebody drew
  int line = 0;                             ///< of its part in the job file
  BoardPlacing on_board;
  std::uint32_t board = 0;                    ///< Part::board
  Box pocket_on_board, skin_on_board;         ///< of the meshes as they lie on the board
  std::optional<std::size_t> same_as;         ///< earlier wall with the same meshes, measured once
  std::size_t pocket_mesh = 0, skin_mesh = 0; ///< JobInput::meshes
  /// Without the meshes themselves; boxes and findings are those of the meshes as drawn.
  CheckInput input;
};

/// A drilled hole as it lies on the board.
struct HoleOnBoard {
  HoleMark mark;        ///< its place in model x, y
  std::size_t part = 0; ///< WallInput::part_number
  std::uint32_t board = 0;
  int line = 0; ///< of the job file
};

/// Two halves that are glued, and the dowels that hold them.
struct HalvesToGlue {
  std::size_t part = 0, other = 0; ///< WallInput::part_number; `part` mirrors `other`
  Setup setup;                     ///< between the holes of the dowels and the skin
  std::array<GlueDowel, 2> dowels;
  Rim rim;                       ///< of either, in its own frame; not empty
  std::uint32_t other_board = 0; ///< Part::board of `other`
};

struct JobInput {
  std::shared_ptr<const Job> job;   ///< as read; null for a quick check
  std::shared_ptr<const Pour> pour; ///< for the setup sheet; null: it has no page for it
  std::vector<LoadedMesh> meshes;
  std::vector<HoleOnBoard> holes;
  std::vector<WallInput> walls; ///< at least one
  std::vector<Assumption> assumptions;
  std::vector<Notice> notices; ///< of the job, not of one wall
  std::vector<HalvesToGlue> halves;
  double flip_hole_radius_mm = 0;       ///< 0: not known
  std::vector<std::string> not_checked; ///< of the job

  bool one_wall() const { return walls.size() == 1; }
  const CheckInput& first() const { return walls.front().input; }
};

/// More walls than this are refused: each is measured.
inline constexpr std::size_t kMaxWalls = 99;

struct JobResult {
  std::shared_ptr<const Pour> pour; ///< JobInput::pour
  std::vector<CheckResult> walls;   ///< in the order of the input
  std::size_t governing = 0;
  std::vector<std::size_t> skins;      ///< skins_of()
  std::vector<unsigned char> drawn;    ///< of each wall: WallInput::drawn
  std::vector<std::size_t> skin_walls; ///< all walls between a skin and a pocket
  std::vector<HoleOnBoard> holes;
  double flip_hole_radius_mm = 0; ///< JobInput::flip_hole_radius_mm
  bool board_stated = true; ///< the job states where the board lies; else its set-ups have the
                            ///< rectangle round the parts
  /// Of the whole job: what governs, with all walls in `report.walls`.
  CheckReport report;

  const CheckResult& governing_wall() const { return walls[governing]; }
};

/// Of each part the first wall between its skin and a pocket: it stands for the part.
std::vector<std::size_t> skins_of(const JobInput& job);

/// All but the mesh.
LoadedMesh without_mesh(const LoadedMesh& mesh);

/// The box of all meshes as they lie on the board.
Box box_on_board(const JobInput& job);

/// A quick check as a job.
JobInput job_of(CheckInput input);

/// Throws InputError where parts of a job do not go together (parts_on_board.h), and as
/// check_piece does.
JobResult check_job(JobInput input, const RunContext& run);

} // namespace leastwall
